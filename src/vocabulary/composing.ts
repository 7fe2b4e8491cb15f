import { type Composition, compose, type Task } from "../matter/composition";
import {
  approximate,
  combine,
  format,
  fromSI,
  multiply,
  type Note,
  parseUnit,
  type Quantity,
  quantity,
  type Spread,
  scaleSpread,
  sigma,
  sumQuantities,
  Trouble,
  toSI,
} from "../quantity";
import { LABEL } from "./cautions";
import type { Parameter, ValueCall, ValueDeclaration } from "./declaration";
import { approximately, blanksLeftOut, entriesOf, gatherNotes, quantityOf, withNotes } from "./entries";
import { amount, listed, optional, share, solids, strength } from "./parameters";
import {
  type Args,
  massPer,
  mostOf,
  needOneBasis,
  type Plan,
  type Pricing,
  planOf,
  pricingOf,
  type Row,
  rowsOf,
} from "./stocks";
import { targetsOf, trimmed } from "./targets";
import { gap, type ListValue, list, type Missing, record, text, type Value } from "./value";

/**
 * Several stocks to several targets. Works on values itself, since prices may be in any currency and the answer is a
 * list that keeps the names of the rows.
 */

/** Shares wished for, brought to one whole. */
function wishOf(plan: Plan, call: ValueCall, notes: Note[]): readonly number[] | undefined {
  if (plan.rows[0]!.cells.wish === undefined) return undefined;
  const shares = plan.rows.map((r) => toSI(r.cells.wish!));
  const sum = shares.reduce((a, b) => a + b, 0);
  if (!(sum > 0) || shares.some((s) => s < 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "The shares wished for must be positive and not all nothing.",
      help: "Give them in percent, one for each stock.",
    });
  }
  if (Math.abs(sum - 1) > 1e-9) {
    notes.push(call.note(`The shares wished for add to ${trimmed(100 * sum)} %, and were scaled to 100 %.`));
  }
  return shares.map((s) => s / sum);
}

function objectiveOf(
  plan: Plan,
  pricing: Pricing | undefined,
  call: ValueCall,
  notes: Note[],
): Task["objective"] {
  const wish = wishOf(plan, call, notes);
  if (wish !== undefined) return { type: "wish", shares: wish };
  if (pricing !== undefined) return { type: "cost", per: pricing.per };
  const have = plan.rows.map((r, i) => mostOf(r, plan, i));
  const sum = have.reduce((a, b) => a + b, 0);
  notes.push(
    call.note("Without a price or a wish the blend keeps near to the proportions of what there is."),
  );
  return { type: "wish", shares: have.map((h) => (sum > 0 ? h / sum : 1 / have.length)) };
}

/** Stocks that are chosen among: what it takes grows with the cube. */
const MOST_STOCKS = 200;

/** Uncertainty of each part of a blend, none where nothing that was measured moves it. */
interface Spreads {
  readonly sizes: readonly (Spread | undefined)[];
  readonly shares: readonly (Spread | undefined)[];
  readonly cost: Spread | undefined;
}

/** Readings whose uncertainty is followed, by how many stocks there are: each takes two blends more. */
const mostMeasured = (stocks: number): number => Math.min(60, Math.floor(216_000 / stocks ** 2));
/** Where the choice changes within the uncertainty, the slope is taken this much nearer. */
const NEARER = 1e-3;

/** Every quantity with an uncertainty among the arguments, and the arguments with it moved. */
function* measuredIn(args: Args): Generator<{
  readonly q: Quantity;
  readonly what: string;
  readonly moved: (by: number) => Args;
}> {
  for (const [label, value] of Object.entries(args)) {
    const entries = entriesOf(value);
    for (const [at, entry] of entries.entries()) {
      if (entry.type !== "quantity" || entry.spread === undefined) continue;
      const moved = (by: number): Args => {
        const other = quantity(approximate(entry.n.v + by), entry.unit);
        if (value.type !== "list") return { ...args, [label]: other };
        return { ...args, [label]: { ...value, entries: entries.with(at, other) } };
      };
      const row = value.type === "list" ? value.origin?.names[at] || `stock ${at + 1}` : "";
      yield {
        q: entry,
        what: row === "" || label.startsWith("to_") ? `\`${label}\`` : `${label} of ${row}`,
        moved,
      };
    }
  }
}

/**
 * The uncertainty of a blend, by working it out again with each reading moved up and down. While the same stocks are
 * chosen that is the slope of the amounts. Where others would be chosen the amounts jump: then the slope of this choice is
 * taken close by, and a note says so.
 */
function spreadsOf(args: Args, made: Blend, call: ValueCall, notes: Note[]): Spreads {
  const measured = [...measuredIn(args)];
  const none: Spreads = { sizes: [], shares: [], cost: undefined };
  if (measured.length === 0) return none;
  const most = mostMeasured(made.sizes.length);
  if (measured.length > most) {
    notes.push(
      call.note(
        `The uncertainty of the stocks is not carried through the choice of this blend: of so many stocks it is for ${most} readings at most.`,
      ),
    );
    return none;
  }
  const silent: ValueCall = { note: (says) => ({ text: says }) };
  const again = (moved: Args): Blend | undefined => {
    try {
      return blend(moved, rowsOf(moved) as readonly Row[], silent, [], false);
    } catch (error) {
      if (error instanceof Trouble) return undefined;
      throw error;
    }
  };
  const jumping: string[] = [];
  const terms: { readonly spread: Spread; readonly slope: (of: (b: Blend) => number) => number }[] = [];
  for (const { q, what, moved } of measured) {
    const step = sigma(q.spread);
    if (step === 0) continue;
    const same = (by: number): Blend | undefined => {
      const other = again(moved(by));
      return other?.found.choice === made.found.choice ? other : undefined;
    };
    let by = 1;
    let [up, down] = [same(step), same(-step)];
    if (up === undefined || down === undefined) {
      jumping.push(what);
      by = NEARER;
      [up, down] = [same(NEARER * step), same(-NEARER * step)];
    }
    const [high, low] = [up ?? made, down ?? made];
    if (high === low) continue;
    const width = by * (up === undefined || down === undefined ? 1 : 2);
    terms.push({
      // By one standard uncertainty of this reading.
      spread: scaleSpread(q.spread, 1 / step)!,
      slope: (of) => (of(high) - of(low)) / width,
    });
  }
  if (jumping.length > 0) {
    const more = jumping.length > 1 ? `, and of ${jumping.length - 1} more,` : "";
    notes.push(
      call.note(
        `Within the ± of the ${jumping[0]}${more} other stocks would be chosen, or none would do: the ± of this blend holds for this choice alone.`,
      ),
    );
  }
  const gathered = (of: (b: Blend) => number): Spread | undefined => {
    const centre = Math.abs(of(made));
    const felt = terms
      .map(({ spread, slope }) => ({ by: slope(of), spread }))
      // What the solver's rounding makes of a stock that does not move is nothing.
      .filter(({ by }) => Math.abs(by) > 1e-7 * centre && Math.abs(by) > 1e-9);
    return felt.length === 0 ? undefined : combine(felt);
  };
  return {
    sizes: made.sizes.map((_, i) => gathered((b) => b.sizes[i]!)),
    shares: made.shares.map((_, i) => gathered((b) => b.shares[i]!)),
    cost: made.cost === undefined ? undefined : gathered((b) => b.cost!.n.v),
  };
}

/** A blend as numbers: what its uncertainty is worked out from. */
interface Blend {
  readonly plan: Plan;
  readonly pricing: Pricing | undefined;
  readonly found: Composition;
  /** Amount of each stock in the unit of `have`, its share, and what all costs in the unit of the first price. */
  readonly sizes: readonly number[];
  readonly shares: readonly number[];
  readonly cost: Quantity | undefined;
}

/**
 * Works one blend out.
 *
 * @param why whether to find out what limits it
 */
function blend(args: Args, rows: readonly Row[], call: ValueCall, notes: Note[], why: boolean): Blend {
  const plan = planOf(args, rows);
  needOneBasis(args, plan);
  const total = quantityOf("total", args.total!);
  const pricing = pricingOf(plan);
  if (!plan.known && plan.volumes)
    notes.push(call.note("Volumes are taken to add: without strength or solids no density is known."));
  if (plan.sugar.some((s) => s > 0) && plan.ethanol.some((e) => e > 0)) {
    notes.push(
      call.note(
        "The volume of sugar in spirit is an estimate (0.62 mL/g); a label's strength must be measured.",
      ),
    );
  }
  const found = compose(
    {
      stocks: plan.rows.map((r, i) => ({
        name: r.name,
        most: mostOf(r, plan, i),
        ethanol: plan.ethanol[i]!,
        solids: plan.sugar[i]!,
      })),
      targets: targetsOf(args, plan, pricing),
      total: plan.volumes ? { volume: toSI(total) } : { mass: toSI(total) },
      density: plan.density,
      objective: objectiveOf(plan, pricing, call, notes),
      showTotal: (kg, mix) => format(fromSI(plan.volumes ? kg / mix.density : kg, total.unit)),
      showStock: (i) => format(plan.rows[i]!.cells.have!),
    },
    why,
  );
  const unit = plan.rows[0]!.cells.have!.unit;
  const si = plan.rows.map((r, i) => found.masses[i]! / massPer(r.cells.have!.unit, plan, i));
  const sum = si.reduce((a, b) => a + b, 0);
  return {
    plan,
    pricing,
    found,
    sizes: si.map((v) => fromSI(v, unit).n.v),
    shares: si.map((v) => (100 * v) / sum),
    cost: pricing === undefined ? undefined : costOf(plan, pricing, found),
  };
}

/** What the blend costs, without uncertainty. */
function costOf(plan: Plan, pricing: Pricing, found: Composition): Quantity {
  return sumQuantities(
    plan.rows.map((row, i) => {
      const { n, unit } = row.cells.price!;
      const amount = fromSI(found.masses[i]! / massPer(pricing.basis, plan, i), pricing.basis);
      return multiply(quantity(n, unit), amount);
    }),
  );
}

function evaluate(args: Args, call: ValueCall): Value {
  const rows = rowsOf(args);
  if (!Array.isArray(rows)) return rows as Value;
  if (rows.length === 0) return gap("no stock is filled in yet");
  if (rows.length > MOST_STOCKS) {
    throw new Trouble({
      code: "too-many-stocks",
      says: `\`compose\` chooses among at most ${MOST_STOCKS} stocks, and was given ${rows.length}.`,
      help: "Leave out those that cannot be meant, with `where`.",
    });
  }
  const notes: Note[] = [];
  const count = entriesOf(args.have!).length;
  if (rows.length < count) notes.push({ text: blanksLeftOut(count - rows.length, count) });
  const made = blend(args, rows as readonly Row[], call, notes, true);
  const spreads = spreadsOf(args, made, call, notes);
  return withNotes(answer(args, made, spreads), notes, gatherNotes(quantityOf("total", args.total!).notes));
}

/** The result as values: a row that was skipped stays blank in the lists. */
function answer(args: Args, made: Blend, spreads: Spreads): Value {
  const { plan, found } = made;
  const count = entriesOf(args.have!).length;
  const origin = args.have!.type === "list" ? (args.have as ListValue).origin : undefined;
  const unit = plan.rows[0]!.cells.have!.unit;
  const percent = parseUnit("%");
  const amounts: Value[] = new Array(count).fill(gap("this stock is not filled in"));
  const shares: Value[] = amounts.slice();
  plan.rows.forEach((row, i) => {
    amounts[row.at] = approximately(made.sizes[i]!, unit, spreads.sizes[i]);
    shares[row.at] = approximately(made.shares[i]!, percent, spreads.shares[i]);
  });
  const parts: [string, Value][] = [
    ["amounts", list(amounts, origin)],
    ["shares", list(shares, origin)],
  ];
  const { cost } = made;
  if (cost !== undefined)
    parts.push(["cost", spreads.cost === undefined ? cost : quantity(cost.n, cost.unit, spreads.cost)]);
  parts.push([
    "limited_by",
    text(found.limitedBy.length === 0 ? "the targets alone" : found.limitedBy.join("; ")),
  ]);
  return record(parts, cost === undefined ? new Map([["cost", NO_PRICE]]) : undefined);
}

const NO_PRICE: Missing = {
  says: "What the blend costs is told only when the stocks have prices.",
  help: "Add the column: `price: stocks.price`.",
};

const wanted = (parameter: Parameter): Parameter => optional(listed(parameter));

export const declarations: readonly ValueDeclaration[] = [
  {
    name: "compose",
    group: "blending",
    says: "How much of each of several stocks makes a total that meets the targets, at least cost or nearest to a wish.",
    parameters: [
      amount("total", "Amount wanted: a mass, or a volume at 20 °C."),
      listed(amount("have", "The most that may be used of each stock; for water, more than enough.")),
      wanted(strength("strength", "Strength of each stock; 0 %vol for water.")),
      wanted(solids("solids", "Dissolved solids of each stock.")),
      {
        ...wanted(
          share(
            "price",
            "Price of each stock, for a mass or a volume (`11.20 GBP/L`). Makes the cost least.",
          ),
        ),
        takes: "any",
      },
      wanted(share("content", "Anything else that adds by mass, as a share of each stock: acid, fat, salt.")),
      wanted(strength("to_strength", "Strength wanted; a list of two is the least and the most.")),
      wanted(solids("to_solids", "Solids wanted; a list of two is the least and the most.")),
      wanted(share("to_content", "Content wanted; a list of two is the least and the most.")),
      {
        ...wanted(share("to_price", "The most that the blend may cost for a mass or a volume.")),
        takes: "any",
      },
      wanted(
        share("wish", "Share of each stock that you would like best. The blend keeps as near as it can."),
      ),
    ],
    labelsOnly: [
      "strength",
      "solids",
      "price",
      "content",
      "to_strength",
      "to_solids",
      "to_content",
      "to_price",
      "wish",
    ],
    result: [
      { name: "amounts", says: "Amount of each stock, in the unit of `have`.", holds: "any" },
      { name: "shares", says: "Share of each in the sum of the amounts.", holds: "any" },
      { name: "cost", says: "Cost of the whole, when prices are given.", holds: "any" },
      { name: "limited_by", says: "What keeps it from being cheaper or nearer to the wish.", holds: "text" },
    ],
    equation:
      "shares x_i by mass: sum x_i = 1, x_i <= have_i / total, sum x_i * property_i = target; least sum of cost, or least sum of |share - wish|",
    source:
      "linear program (simplex, the yalps library); densities by OIML R 22 and Bubník and Kadlec (1995)",
    range:
      "stocks up to a few dozen; strengths 0 to 100 %, solids to 85 °Bx; volumes of spirit are solved by mass, with contraction",
    trust:
      "balances close to one part in a billion; the ± of stocks, total and targets is carried by working the blend out again, for the choice of stocks that was made; sugar with alcohol rests on an estimated volume (0.5 %)",
    cautions: [LABEL],
    examples: [
      {
        formula:
          "compose(1 L, [600 mL, 800 mL, 2 L], strength: [96 %vol, 40 %vol, 0 %vol], price: [18 GBP/L, 9 GBP/L, 0 GBP/L], to_strength: 42 %vol).limited_by",
        gives: "to_strength 42 %vol",
      },
    ],
    takesGaps: true,
    evaluate,
  },
];
