import { Trouble } from "../quantity/trouble";
import { type Bound, best, nearestTo, type Objective, type Program } from "./linear";

/**
 * Several stocks blended to several targets, within what there is of each. The unknowns are masses, since only masses
 * add; a total asked in volume is met through the density of the mix, round by round.
 */

export interface Stock {
  readonly name: string;
  /** The most that may be used, kg. */
  readonly most: number;
  /** Mass fractions of ethanol and of dissolved solids. */
  readonly ethanol: number;
  readonly solids: number;
}

/** What the blend is made of, so far as its targets need to know. */
export interface Mix {
  readonly ethanol: number;
  readonly solids: number;
  /** kg/m³, or 1 where volumes are taken to add. */
  readonly density: number;
}

export interface Target {
  /** The label in the language: `to_strength`. */
  readonly name: string;
  /** The property of a kilogram of each stock. */
  readonly of: readonly number[];
  /** Least and most of the property in a kilogram of the mix. */
  readonly bounds: (mix: Mix) => readonly [low: number, high: number];
  /** A value of the property in the words of the person, its last digit rounded as told. */
  readonly show: (value: number, mix: Mix, rounded: Rounding) => string;
}

/** How the last digit of a figure is rounded: an offer must stay on the side that is possible. */
export type Rounding = "near" | "down" | "up";

export interface Task {
  readonly stocks: readonly Stock[];
  readonly targets: readonly Target[];
  /** Mass wanted (kg), or volume (m³). */
  readonly total: { readonly mass: number } | { readonly volume: number };
  /** Density of a liquid with these mass fractions, kg/m³; 1 throughout where volumes are taken to add. */
  readonly density: (ethanol: number, solids: number) => number;
  /** Cost of a kilogram of each, or shares wished for, of masses or of volumes as the total is. */
  readonly objective:
    | { readonly type: "cost"; readonly per: readonly number[] }
    | { readonly type: "wish"; readonly shares: readonly number[] };
  /** A mass of the mix, and what there is of a stock, in the words of the person. */
  readonly showTotal: (kg: number, mix: Mix) => string;
  readonly showStock: (stock: number) => string;
}

export interface Composition {
  /** kg of each stock. */
  readonly masses: readonly number[];
  readonly mix: Mix;
  /**
   * What was chosen: which stocks are used, in part or to the last, and which ends of targets and which wishes are met
   * exactly. While it stays the same the masses follow the numbers that went in smoothly; where it changes they jump.
   */
  readonly choice: string;
  /** What keeps the blend from being cheaper or nearer to the wish, in words. Empty when it was not asked for. */
  readonly limitedBy: readonly string[];
}

const MOST_ROUNDS = 100;
/** A balance closes when it is off by no more than this share. */
const CLOSED = 1e-9;
/** From this round on each step goes half way, so that two blends that lead to each other meet between. */
const HALVING_ROUND = 20;
/** A cap or bound counts as the limit when the objective would fall by this share without it. */
const MATTERS = 1e-8;

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, v, i) => sum + v * b[i]!, 0);

/**
 * The blend, and what limits it.
 *
 * @param why whether to find out what limits it, which takes as long as all the rest
 *
 * @throws Trouble `no-stocks`, `too-little`, `target-impossible`, `targets-conflict`, `did-not-converge`
 */
export function compose(task: Task, why = true): Composition {
  needTask(task);
  let mix = mixOf(evenShares(task), task);
  let inVain = 0;
  needEnough(task, mix);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const mass = massWanted(task, mix);
    const program = programFor(task, mass, mix);
    const objective = objectiveFor(task, mix);
    const nearest = nearestTo(program, objective);
    const possible = nearest.miss === 0;
    const found = possible ? best(program, objective) : undefined;
    const x = found?.x ?? nearest.x;
    const next = mixOf(x, task);
    if (settled(mix, next, possible ? SETTLED : SETTLED_IN_VAIN)) {
      // What the solver calls possible by its last digit is not, when the balances do not close.
      if (found === undefined || found.off > CLOSED) throw whyImpossible(task);
      needEnough(task, next);
      return {
        masses: x.map((share) => share * mass),
        mix: next,
        choice: choiceOf(program, objective, x),
        limitedBy: why ? limits(task, program, objective, x, mix) : [],
      };
    }
    inVain = possible ? 0 : inVain + 1;
    mix = stepTo(mix, next, round, task);
  }
  // Two targets that cannot both be met may be missed in turn for ever: not possible all the same.
  if (inVain > MOST_ROUNDS / 2) throw whyImpossible(task);
  throw new Trouble({
    code: "did-not-converge",
    says: `The density of the blend did not settle after ${MOST_ROUNDS} rounds, so there is no answer to give.`,
    help: "Ask for a mass instead of a volume.",
  });
}

function needTask(task: Task): void {
  if (task.stocks.length === 0) {
    throw new Trouble({
      code: "no-stocks",
      says: "There are no stocks to blend.",
      help: "Fill in at least one row.",
    });
  }
  const total = "mass" in task.total ? task.total.mass : task.total.volume;
  if (!(total > 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "The total must be more than nothing.",
      help: "Check the amount.",
    });
  }
  const negative = task.stocks.find((s) => !(s.most >= 0));
  if (negative !== undefined) {
    throw new Trouble({ code: "out-of-range", says: `There cannot be less than none of ${negative.name}.` });
  }
}

/** A first guess of the mix: all stocks in the proportion in which there is of them. */
function evenShares(task: Task): number[] {
  const sum = task.stocks.reduce((total, s) => total + s.most, 0);
  return task.stocks.map((s) => (sum > 0 ? s.most / sum : 1 / task.stocks.length));
}

function mixOf(x: readonly number[], task: Task): Mix {
  let ethanol = 0;
  let solids = 0;
  task.stocks.forEach((stock, i) => {
    ethanol += x[i]! * stock.ethanol;
    solids += x[i]! * stock.solids;
  });
  return { ethanol, solids, density: task.density(ethanol, solids) };
}

function stepTo(mix: Mix, next: Mix, round: number, task: Task): Mix {
  if (round < HALVING_ROUND) return next;
  const ethanol = (mix.ethanol + next.ethanol) / 2;
  const solids = (mix.solids + next.solids) / 2;
  return { ethanol, solids, density: task.density(ethanol, solids) };
}

/** When two rounds count as one: what the solver rounds to for an answer, more loosely for a refusal. */
const SETTLED = 2e-10;
const SETTLED_IN_VAIN = 1e-8;

const settled = (a: Mix, b: Mix, within: number): boolean =>
  Math.abs(a.ethanol - b.ethanol) < within &&
  Math.abs(a.solids - b.solids) < within &&
  Math.abs(a.density - b.density) < within * b.density;

const massWanted = (task: Task, mix: Mix): number =>
  "mass" in task.total ? task.total.mass : task.total.volume * mix.density;

/** All the stocks together make the greatest amount, whatever the blend: so their own mix decides. */
function needEnough(task: Task, mix: Mix): void {
  const want = massWanted(task, mix);
  const have = task.stocks.reduce((sum, s) => sum + s.most, 0);
  if (have >= want * (1 - 1e-12)) return;
  throw new Trouble({
    code: "too-little",
    says:
      have === 0
        ? "There is nothing in stock to blend."
        : `The stocks come to ${task.showTotal(have, mix)} in all, and ${task.showTotal(want, mix)} is wanted.`,
    help: "Ask for less, or add a stock (water is one: 0 %vol, 0 °Bx).",
  });
}

function programFor(task: Task, mass: number, mix: Mix): Program {
  const caps = task.stocks.map((s) => s.most / mass);
  const sum = caps.reduce((a, b) => a + b, 0);
  // All of everything, or a density that has not settled yet: stretched until the shares can add to one.
  return {
    caps: sum < 1 ? caps.map((c) => c / sum) : caps,
    bounds: task.targets.map((t) => boundOf(t, mix)),
  };
}

function boundOf(target: Target, mix: Mix): Bound {
  const [low, high] = target.bounds(mix);
  return { of: target.of, low, high };
}

function objectiveFor(task: Task, mix: Mix): Objective {
  if (task.objective.type === "cost") return task.objective;
  const byVolume = "volume" in task.total;
  return {
    type: "wish",
    shares: task.objective.shares,
    scale: task.stocks.map((s) => (byVolume ? mix.density / task.density(s.ethanol, s.solids) : 1)),
  };
}

/** How far a property can be brought, and the mix that has it there. */
interface Reached {
  readonly value: number;
  readonly mix: Mix;
}

/** The least (-1) or most (1) of a target's property while `others` are met; nothing when they cannot be. */
function farthest(task: Task, target: Target, others: readonly Target[], way: 1 | -1): Reached | undefined {
  const span = Math.max(1e-12, ...target.of.map(Math.abs));
  const per = target.of.map((v) => (-way * v) / span);
  let mix = mixOf(evenShares(task), task);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const program = programFor({ ...task, targets: others }, massWanted(task, mix), mix);
    const tried = nearestTo(program, { type: "cost", per });
    const possible = tried.miss === 0;
    const x = possible ? best(program, { type: "cost", per }).x : tried.x;
    const next = mixOf(x, task);
    if (settled(mix, next, SETTLED_IN_VAIN))
      return possible ? { value: dot(target.of, x), mix: next } : undefined;
    mix = stepTo(mix, next, round, task);
  }
  return undefined;
}

/** Whether what is asked lies above (1) or below (-1) both ends, or between them (0). */
function sideOf(target: Target, low: Reached, high: Reached): 1 | 0 | -1 {
  if (target.bounds(high.mix)[0] > high.value) return 1;
  return target.bounds(low.mix)[1] < low.value ? -1 : 0;
}

const showLow = (target: Target, low: Reached): string => target.show(low.value, low.mix, "up");
const showHigh = (target: Target, high: Reached): string => target.show(high.value, high.mix, "down");

/** Names the target that stands in the way, and how near to it the stocks can come. */
function whyImpossible(task: Task): Trouble {
  for (const target of task.targets) {
    const low = farthest(task, target, [], -1);
    const high = farthest(task, target, [], 1);
    if (low === undefined || high === undefined) continue;
    const side = sideOf(target, low, high);
    if (side === 0) continue;
    return new Trouble({
      code: "target-impossible",
      says:
        `${target.name} stands in the way: with what there is, the blend can be from ${showLow(target, low)} ` +
        `to ${showHigh(target, high)}.`,
      help: `The nearest that is possible is ${side > 0 ? showHigh(target, high) : showLow(target, low)}.`,
    });
  }
  const blamed: string[] = [];
  const offers: string[] = [];
  for (const target of task.targets) {
    const others = task.targets.filter((t) => t !== target);
    const low = farthest(task, target, others, -1);
    const high = farthest(task, target, others, 1);
    if (low === undefined || high === undefined) continue;
    blamed.push(target.name);
    offers.push(
      `${target.name} ${sideOf(target, low, high) > 0 ? showHigh(target, high) : showLow(target, low)}`,
    );
  }
  if (offers.length > 0) {
    return new Trouble({
      code: "target-impossible",
      says: `${blamed[0]} stands in the way: the stocks cannot meet it together with the other targets.`,
      help: `The nearest that is possible: ${offers.join(", or ")}.`,
    });
  }
  return new Trouble({
    code: "targets-conflict",
    says: `The stocks cannot meet ${task.targets.map((t) => t.name).join(", ")} together, and leaving any one of them out is not enough.`,
    help: "Leave two of them out, or add a stock that is richer in one and poorer in another.",
  });
}

/** What counts as touching an end, in parts of the whole. */
const TOUCHES = 1e-8;

function choiceOf(program: Program, objective: Objective, x: readonly number[]): string {
  const stocks = x.map((share, i) => {
    if (share < TOUCHES) return "-";
    if (share > program.caps[i]! - TOUCHES) return "a";
    const wished =
      objective.type === "wish" && Math.abs(objective.scale[i]! * share - objective.shares[i]!) < TOUCHES;
    return wished ? "w" : "s";
  });
  const ends = program.bounds.map((bound) => {
    const value = dot(bound.of, x);
    const span = Math.max(1e-12, ...bound.of.map((v) => Math.abs(v - value)));
    if (bound.low === bound.high) return "=";
    if (value < bound.low + TOUCHES * span) return "<";
    return value > bound.high - TOUCHES * span ? ">" : "~";
  });
  return [...stocks, ...ends].join("");
}

/** What would let the objective fall if it were not there: stocks that run out, ends of ranges. */
function limits(
  task: Task,
  program: Program,
  objective: Objective,
  x: readonly number[],
  mix: Mix,
): readonly string[] {
  const now = best(program, objective).value;
  const better = (other: Program): boolean =>
    nearestTo(other).miss === 0 &&
    best(other, objective).value < now - MATTERS * Math.max(1e-6, Math.abs(now));
  const found: string[] = [];
  task.stocks.forEach((stock, i) => {
    if (x[i]! < program.caps[i]! - 1e-9 || program.caps[i]! >= 1) return;
    const caps = program.caps.map((cap, k) => (k === i ? 1 : cap));
    if (better({ ...program, caps })) found.push(`all ${task.showStock(i)} of ${stock.name}`);
  });
  task.targets.forEach((target, i) => {
    const bound = program.bounds[i]!;
    const value = dot(bound.of, x);
    const span = Math.max(1e-12, ...bound.of.map((v) => Math.abs(v - value)));
    const atLow = Math.abs(value - bound.low) < 1e-9 * span;
    const atHigh = Math.abs(value - bound.high) < 1e-9 * span;
    if (!atLow && !atHigh) return;
    const bounds = program.bounds.filter((_, k) => k !== i);
    if (!better({ ...program, bounds })) return;
    const end = bound.low === bound.high ? "" : atLow ? " at its least," : " at its most,";
    found.push(`${target.name}${end} ${target.show(value, mix, "near")}`);
  });
  return found;
}
