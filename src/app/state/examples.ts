export interface Example {
  readonly file: string;
  readonly title: string;
  readonly says: string;
  /** How full its jar is drawn, in per cent. */
  readonly fill: number;
  /** Fetches its text: the start shows what a book is about, and need not wait for all of them. */
  readonly text: () => Promise<string>;
}

const texts = import.meta.glob<string>("../../../workbooks/*.vacuo", { query: "?raw", import: "default" });

const example = (file: string, title: string, fill: number, says: string): Example => ({
  file,
  title,
  fill,
  says,
  text: texts[`../../../workbooks/${file}`]!,
});

/** The books that come with the page, by what they are for. Each opens as a new copy. */
export const shelves: readonly { readonly heading: string; readonly examples: readonly Example[] }[] = [
  {
    heading: "Blends",
    examples: [
      example(
        "harbour-gin.vacuo",
        "Harbour gin, spring trial",
        72,
        "Five single distillates married to one blend and let down to label strength: water to add, bottles, cost.",
      ),
      example(
        "three-litres.vacuo",
        "Three litres, exactly",
        60,
        "A small trial scaled up to a batch of one size and strength: spirit and water make up what is missing.",
      ),
      example(
        "soak-run-cuts.vacuo",
        "Soak, run, cuts",
        40,
        "Peel soaked in strong spirit, run, and caught in six jars: what is in each, and which belong together.",
      ),
    ],
  },
  {
    heading: "Honey",
    examples: [
      example(
        "bay-honey.vacuo",
        "Bay-leaf honey",
        48,
        "Thin a honey with an infusion and drive the water off again: how much infusion it can take.",
      ),
      example(
        "fir-tip-honey.vacuo",
        "Fir-tip honey",
        30,
        "A weak tincture stirred into forest honey, and brought back to a moisture that keeps.",
      ),
    ],
  },
  {
    heading: "At the still",
    examples: [
      example(
        "still-setting.vacuo",
        "Setting the still",
        34,
        "Which pull for which liquid, with the bath and the coolant that the bench has.",
      ),
      example(
        "bay-leaf-water.vacuo",
        "Bay-leaf water",
        52,
        "A distillate in plain water: a coolant that is cold enough and does not ice the coil.",
      ),
      example(
        "slow-macerate.vacuo",
        "A macerate over a mild bath",
        44,
        "How long a run takes on this still, from one timed run of plain water, and what pull finishes it.",
      ),
      example(
        "four-runs.vacuo",
        "Four runs on one still",
        66,
        "A day's order of work for one still and one person: does it fit, and how often is the glass rinsed?",
      ),
    ],
  },
  {
    heading: "Without the alcohol, thickened, frozen",
    examples: [
      example(
        "dry-cider.vacuo",
        "Orchard cider without the alcohol",
        88,
        "Take the alcohol out of a cider and give the water back: volumes and strengths on both sides.",
      ),
      example(
        "light-porter.vacuo",
        "Porter to half a per cent",
        80,
        "A beer down to half a per cent in the drinker's glass, after the water went back.",
      ),
      example(
        "mushroom-liquor.vacuo",
        "Mushroom and barley liquor",
        24,
        "A salty ferment thickened under vacuum: how salty it gets, whether it keeps, when salt falls out.",
      ),
      example(
        "frozen-base.vacuo",
        "A frozen base with a spirit in it",
        58,
        "How much distillate a sorbet base can take and still be firm enough to scoop.",
      ),
    ],
  },
  {
    heading: "Over time",
    examples: [
      example(
        "coriander-trials.vacuo",
        "Coriander, eight runs",
        56,
        "The same run done several times: what it gave, how evenly, and whether a change made a difference.",
      ),
      example(
        "spirit-account.vacuo",
        "The spirit account of the spring quarter",
        64,
        "What alcohol came in, what went out, and what should be there, in litres of pure alcohol.",
      ),
    ],
  },
];

export const examples: readonly Example[] = shelves.flatMap((shelf) => shelf.examples);

const begun = (file: keyof typeof import("./beginnings").texts) => async () =>
  (await import("./beginnings")).texts[file];

/** Beginnings: small books that stand on their own feet and ask for one's own numbers. */
export const beginnings: readonly Example[] = [
  {
    file: "my-blend.vacuo",
    title: "My blend",
    fill: 20,
    says: "Distillates in a table, their blend, the water that brings it to strength, and the cost of a bottle.",
    text: begun("my-blend.vacuo"),
  },
  {
    file: "my-honey.vacuo",
    title: "My honey",
    fill: 15,
    says: "A honey, an infusion, and the water that has to come off again.",
    text: begun("my-honey.vacuo"),
  },
  {
    file: "my-run.vacuo",
    title: "My run",
    fill: 10,
    says: "One charge at one pull: where it boils, what comes over, a card for the bench.",
    text: begun("my-run.vacuo"),
  },
];

/** The empty book. */
export const emptyBook = 'book "Untitled"\n\n';
