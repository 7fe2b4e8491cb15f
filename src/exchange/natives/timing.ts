import {
  call,
  type Expression,
  joined,
  minus,
  number,
  operation,
  over,
  plus,
  polynomial,
  text,
  times,
} from "../expression";
import { fittedBoiling, place, type StillTerms, stillTerms } from "./fitted-still";
import type { NativeCall } from "./native";
import { both } from "./ranges";
import { type Charge, chargeOf, gauss, pace, type RunState, runToGoal, takenGoal } from "./rayleigh";
import { charged, guessed, wantedEnd } from "./run";
import { density } from "./spirit-maths";
import { stallAt } from "./stall";
import { latentHeat } from "./still";
import { MOLAR, massOfMoles, pressures } from "./vapour";

/** How long a run takes, as in src/matter/heat.ts: dt = L dm / Q, added up by Gauss-Legendre along ln x. */
export const TIME_ERROR = 1e-3;
const NODES = 10;
/** Nearer to its end than this, as a part of the first difference between bath and pot, a run is left to the book. */
const LAST_GAP = 0.01;
/** Where the bath limits, the last part of the way is added up apart: there the difference shrinks and time runs away. */
const LAST_PART = 0.15;

/** What heats: the bath (K), W/K, and the chiller's W when there is one. */
interface Heating {
  readonly bath: Expression;
  readonly perKelvin: Expression;
  readonly chill?: Expression;
}

/** Weights that integrate from 1 down to each place of a Gauss rule. */
function downTo(nodes: readonly number[]): number[][] {
  const inner = gauss(NODES);
  const basis = (k: number, u: number): number =>
    nodes.reduce((product, n, i) => (i === k ? product : (product * (u - n)) / (nodes[k]! - n)), 1);
  return nodes.map((from) =>
    nodes.map((_, k) =>
      inner.nodes.reduce(
        (sum, v, i) => sum + inner.weights[i]! * (1 - from) * basis(k, from + (1 - from) * v),
        0,
      ),
    ),
  );
}

/** Kilograms per second come over at a place: what the heat that passes can evaporate. */
interface Pace {
  readonly kelvin: Expression;
  readonly heat: Expression;
  readonly p: Expression;
}

/** Seconds from one place down to another. `spent` is -ln of the moles left at the upper one. */
function seconds(
  c: NativeCall,
  still: StillTerms,
  charge: Charge,
  from: { readonly s: Expression; readonly spent: Expression },
  to: Expression,
  power: (kelvin: Expression) => Expression,
  about: string,
): { time: Expression; spent: Expression } {
  const { nodes, weights } = gauss(NODES);
  const down = downTo(nodes);
  const span = c.step(`${about}: span of ln x`, minus(from.s, to));
  const places = nodes.map((node, i) =>
    pace(c, still, plus(to, times(number(node), span)), `${about}, place ${i + 1}`),
  );
  const added = (by: readonly number[]): Expression =>
    joined(
      places.map(({ h }, k) => times(number(by[k]!), h)),
      plus,
      number(0),
    );
  const terms = places.map(({ x, h, alpha }, i) => {
    const at = `${about}, place ${i + 1}`;
    const left = c.step(
      `${at}: kilomoles left`,
      times(charge.moles, call("EXP", minus(number(0), plus(from.spent, times(span, added(down[i]!)))))),
    );
    const vapour = vapourAt(c, x, alpha, at);
    const { kelvin, heat } = boilAt(c, still, x, vapour.p, at);
    const mass = times(times(left, h), vapour.molar);
    return times(
      number(weights[i]!),
      c.step(`${at}: seconds for a change of ln x`, over(times(mass, heat), power(kelvin))),
    );
  });
  return {
    time: c.step(`${about}: seconds`, times(span, joined(terms, plus, number(0)))),
    spent: c.step(`${about}: -ln of the moles left`, plus(from.spent, times(span, added(weights)))),
  };
}

function vapourAt(c: NativeCall, x: Expression, alpha: Expression, at: string) {
  const y = c.step(
    `${at}: vapour`,
    over(times(alpha, x), plus(number(1), times(minus(alpha, number(1)), x))),
  );
  const molar = plus(times(y, number(MOLAR.ethanol)), times(minus(number(1), y), number(MOLAR.water)));
  return { molar, p: c.step(`${at}: vapour, by mass`, massOfMoles(y)) };
}

/** Boiling temperature from the fit, put right once, and the heat that the vapour takes along. */
function boilAt(c: NativeCall, still: StillTerms, x: Expression, p: Expression, at: string): Pace {
  const z = c.step(`${at}: z for the temperature`, place(x));
  const inverse = c.step(`${at}: 1/T, fitted`, over(polynomial(still.inverse(), z), number(1000)));
  const fitted = c.step(`${at}: temperature, fitted (K)`, over(number(1), inverse));
  const { total } = pressures(c, { x }, fitted, at);
  const kelvin = c.step(
    `${at}: temperature (K)`,
    over(number(1), plus(inverse, over(minus(call("LN", total), still.lnPressure), number(5200)))),
  );
  return { kelvin, p, heat: c.step(`${at}: heat of evaporation (J/kg)`, latentHeat(p, kelvin)) };
}

export function runTime(c: NativeCall) {
  const activity = c.optional("activity");
  if (activity !== undefined && c.constant("activity") !== 1) c.refuse("for a pot with sugar or salt in it");
  const { p, mass } = charged(c);
  if (p.type === "number" && p.value === 0) c.refuse("for a charge without alcohol");
  const still = stillTerms(c, c.number("pressure"));
  const charge = chargeOf(c, mass, p);
  const end = wantedEnd(c, still, charge, p, mass, number(1));
  const taken = c.step("taken: alcohol by mass", over(end.takenEthanol, end.takenMass));
  const volume = c.step(
    "half of what is taken (m3)",
    over(end.takenMass, times(number(2), density(c, taken))),
  );
  const half = runToGoal(
    c,
    still,
    charge,
    guessed(times(volume, number(880)), charge),
    takenGoal(c, volume, false),
  );
  const chill = c.optional("chill");
  const positive = (e: Expression): Expression => c.within(e, operation(">", e, number(0)));
  const heating: Heating = {
    bath: c.number("bath"),
    perKelvin: c.step("heat passed for each kelvin (W/K)", positive(c.number("per_kelvin"))),
    ...(chill === undefined ? {} : { chill: c.step("chiller (W)", positive(chill)) }),
  };
  const first = fittedBoiling(c, still, charge.x, "first boil");
  const last = fittedBoiling(c, still, end.x, "last boil");
  const gapAtFirst = minus(heating.bath, first.kelvin);
  const gap = c.step("last difference between bath and pot (K)", minus(heating.bath, last.kelvin));
  const enough = both(
    operation(">", gapAtFirst, number(0)),
    operation(">", gap, times(number(LAST_GAP), gapAtFirst)),
  );
  const byBath = (kelvin: Expression): Expression => times(heating.perKelvin, minus(heating.bath, kelvin));
  const timeTo = limitedTime(c, still, charge, heating, byBath, first.kelvin, last.kelvin);
  const whole = timeTo(end, "whole run");
  const lastP = c.step("last vapour, by mass", massOfMoles(last.vapour));
  const power =
    heating.chill === undefined ? byBath(last.kelvin) : call("MIN", byBath(last.kelvin), heating.chill);
  const rate = over(power, times(latentHeat(lastP, last.kelvin), density(c, lastP)));
  const from = c.optional("charge_temperature");
  const heat = plus(times(charge.ethanol, number(2440)), times(minus(mass, charge.ethanol), number(4180)));
  return {
    time: c.within(whole.time, enough),
    half_time: c.within(timeTo(half, "half run").time, enough),
    ...(from === undefined
      ? {}
      : {
          warm_up: call(
            "IF",
            operation(">=", from, first.kelvin),
            number(0),
            times(over(heat, heating.perKelvin), call("LN", over(minus(heating.bath, from), gapAtFirst))),
          ),
        }),
    last_rate: c.within(rate, enough),
    limited_by: c.within(limitOf(heating, byBath, first.kelvin, last.kelvin), enough),
  };
}

function bathTime(
  c: NativeCall,
  still: StillTerms,
  charge: Charge,
  from: { readonly s: Expression; readonly spent: Expression },
  to: Expression,
  power: (kelvin: Expression) => Expression,
  about: string,
) {
  const turn = c.step(
    `${about}: ln x where the last part begins`,
    plus(to, times(number(LAST_PART), minus(from.s, to))),
  );
  const first = seconds(c, still, charge, from, turn, power, about);
  const last = seconds(c, still, charge, { s: turn, spent: first.spent }, to, power, `${about}, last part`);
  return { time: plus(first.time, last.time), spent: last.spent };
}

/** Up to where bath and chiller give way to one another the chiller counts, from there on the bath. */
function limitedTime(
  c: NativeCall,
  still: StillTerms,
  charge: Charge,
  heating: Heating,
  byBath: (kelvin: Expression) => Expression,
  first: Expression,
  last: Expression,
) {
  const begin = { s: charge.s, spent: number(0) as Expression };
  const { chill } = heating;
  if (chill === undefined) {
    return (end: RunState, about: string) => bathTime(c, still, charge, begin, end.s, byBath, about);
  }
  const free = minus(heating.bath, over(chill, heating.perKelvin));
  // A pot that never gets there, or is there from the start, gives way at the end or the start of its run.
  const inside = c.step(
    "pot when the bath takes over, inside the run (K)",
    call("MIN", call("MAX", free, first), last),
  );
  const corner = stallAt(c, still, charge.x, inside);
  const corners = c.step("ln x where the bath takes over", call("LN", call("MAX", number(1e-7), corner.x)));
  return (end: RunState, about: string) => {
    const turn = c.step(
      `${about}: ln x where the chiller lets go`,
      call("MAX", end.s, call("MIN", begin.s, corners)),
    );
    const above = seconds(c, still, charge, begin, turn, () => chill, `${about}, chiller`);
    const from = { s: turn, spent: above.spent };
    const below = bathTime(c, still, charge, from, end.s, byBath, `${about}, bath`);
    return { time: plus(above.time, below.time), spent: below.spent };
  };
}

function limitOf(
  { chill }: Heating,
  byBath: (kelvin: Expression) => Expression,
  first: Expression,
  last: Expression,
): Expression {
  if (chill === undefined) return text("bath");
  const held = (kelvin: Expression): Expression => operation(">", byBath(kelvin), chill);
  return call(
    "IF",
    held(first),
    call("IF", held(last), text("chiller"), text("chiller first, then bath")),
    text("bath"),
  );
}
