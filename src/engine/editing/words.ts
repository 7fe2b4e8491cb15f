/** A word of the language, as it is explained to a reader. */
export interface LanguageWord {
  readonly word: string;
  /** What it does, in one sentence. */
  readonly says: string;
  /** A formula, or lines of a book. */
  readonly example: string;
  /** What the example comes to: the text of the formula, or one line of what the book tells. */
  readonly gives: string;
  /** Only where it begins a statement, or only where it does not. */
  readonly stands?: "first" | "inside";
}

const STOCK = "table stock\n| item | volume (mL) |\n| juniper | 2400 |\n| bay leaf | 350 |\n";

/**
 * The words of the language, each with a sentence and an example that runs. The last ones are no words of the
 * language; people look them up all the same.
 */
export const languageWords: readonly LanguageWord[] = [
  // ---- statements
  {
    word: "set",
    says: "Gives a value a name, by which any formula of the book can use it.",
    example: "set bottle = 500 mL\nset dozen = 12 * bottle",
    gives: "dozen = 6000 mL",
  },
  {
    word: "define",
    says: "Makes a function of your own, which is written out wherever it is called.",
    example: "define kept(x, lost) = x * (1 - lost)\nset left = kept(2 L, 5 %)",
    gives: "left = 1.9 L",
  },
  {
    word: "table",
    says: "Begins a grid: the first row names the columns, and the first column names the rows.",
    example: `${STOCK}set all = sum(stock.volume)`,
    gives: "all = 2750 mL",
  },
  {
    word: "column",
    says: "Adds a column to the table above that is worked out in each row, from the cells of that row.",
    example: `${STOCK}column doubled = volume * 2`,
    gives: "stock.juniper.doubled = 4800 mL",
  },
  {
    word: "foot",
    says: "Puts a value under a column; a bare column name in it is the whole column.",
    example: `${STOCK}foot volume = sum(volume)`,
    gives: "stock.foot.volume = 2750 mL",
  },
  {
    word: "check",
    says: "States what the book must meet; it is met, not met, or not known yet.",
    example: 'set strength = 43 %vol\ncheck strength > 42 %vol : "strong enough"',
    gives: "strong enough: met",
  },
  {
    word: "chart",
    says: "Draws a picture: bars, a line or dots of one column by another, or a curve.",
    example: `${STOCK}chart "Stock" : bars stock.volume by stock.item`,
    gives: "Stock: 2 points",
  },
  {
    word: "step",
    says: "Is one line of the bench card; what stands in braces is worked out.",
    example: 'set water = 1.2 L\nstep "Stir in {water in mL} of water." wait 30 min',
    gives: "Stir in 1200 mL of water.",
    stands: "first",
  },
  {
    word: "book",
    says: "Gives the book its title; before a dot, in a table, it leads past the columns to the book.",
    example: `book "Stock"\nset volume = 1 L\n${STOCK}column more = volume + book.volume`,
    gives: "stock.juniper.more = 3400 mL",
  },
  {
    word: "about",
    says: "Holds words about the book, for whoever reads it.",
    example: 'about "Three stocks from the cellar shelf."\nset three = 3',
    gives: "three = 3",
  },
  {
    word: "part",
    says: "Begins a titled part of the book, which lasts to the next one.",
    example: 'part "Bottling"\nset bottle = 500 mL',
    gives: "bottle = 500 mL",
  },
  {
    word: "seen",
    says: "Ticks a formula as looked over; the tick falls off when the formula changes.",
    example: "set a = 1 L\nset b = a * 2\nseen b @00000000",
    gives: "b = 2 L",
  },
  {
    word: "language",
    says: "States the version of the language, in the first line of a book.",
    example: "language 1\nset a = 1 L",
    gives: "a = 1 L",
  },
  // ---- inside formulas
  {
    word: "in",
    says: "Shows a value in another unit of the same kind.",
    example: "25 °C in °F",
    gives: "77 °F",
  },
  {
    word: "is",
    says: "Asks whether two values are equal; of text, capitals and spare blanks do not count.",
    example: "0.1 + 0.2 is 0.3",
    gives: "true",
  },
  {
    word: "not",
    says: "Turns true into false and false into true; `is not` asks whether two values differ.",
    example: "2 L is not 2000 mL",
    gives: "false",
  },
  {
    word: "and",
    says: "Is true when both sides are.",
    example: "1 L < 2 L and 3 g > 1 g",
    gives: "true",
  },
  {
    word: "or",
    says: "Is true when one of the two sides is.",
    example: "1 L > 2 L or 3 g > 1 g",
    gives: "true",
  },
  {
    word: "within",
    says: "Asks whether a value lies between two others, both ends included.",
    example: "25 °C within 20 °C to 30 °C",
    gives: "true",
  },
  {
    word: "to",
    says: "Stands between two ends: of a range, of `within`, of a search, of a slider.",
    example: "sum(1 to 4)",
    gives: "10",
  },
  {
    word: "step",
    says: "Says how far apart the entries of a range are.",
    example: "10 mbar to 40 mbar step 10 mbar",
    gives: "10 mbar, 20 mbar, 30 mbar, 40 mbar",
    stands: "inside",
  },
  {
    word: "if",
    says: "Chooses between two outcomes of one kind, and works only the chosen one out.",
    example: 'if 2.4 L > 2 L then "large" else "small"',
    gives: "large",
  },
  {
    word: "then",
    says: "Stands before the outcome of an `if` whose condition is true.",
    example: "if true then 1 L else 2 L",
    gives: "1 L",
  },
  {
    word: "else",
    says: "Stands before the outcome of an `if` whose condition is not true; it is never left out.",
    example: "if false then 1 L else 2 L",
    gives: "2 L",
  },
  {
    word: "where",
    says: "Keeps the entries of a list in whose row something is true.",
    example: `${STOCK}set large = sum(stock.volume where volume > 1 L)`,
    gives: "large = 2400 mL",
  },
  {
    word: "find",
    says: "Searches for the value between two ends at which two sides are equal.",
    example: "find x from 1 to 2 so that x^2 is 2",
    gives: "1.4142",
  },
  {
    word: "from",
    says: "Stands before the first end of a search or a curve.",
    example: "find p from 20 mbar to 200 mbar so that boils_at(p) is 40 °C",
    gives: "73.851 mbar",
  },
  {
    word: "so that",
    says: "Stands before what must be equal where a search ends.",
    example: "find v from 0 L to 5 L so that v + 1 L is 3 L",
    gives: "2 L",
  },
  {
    word: "true",
    says: "Holds, as the answer to a question.",
    example: "not true",
    gives: "false",
  },
  {
    word: "false",
    says: "Does not hold, as the answer to a question.",
    example: "true and false",
    gives: "false",
  },
  {
    word: "blank",
    says: "Is a gap on purpose: a value that will be measured and filled in later.",
    example: 'set got = blank in mL\nset told = if got is blank then "not measured yet" else "measured"',
    gives: "told = not measured yet",
  },
  {
    word: "before",
    says: "Leads to the row before this one; for the first row that is a gap.",
    example: `${STOCK}column running = if before.running is blank then volume else before.running + volume`,
    gives: "stock.`bay leaf`.running = 2750 mL",
  },
  // ---- clauses
  {
    word: "try",
    says: "Offers a slider between two values, or a choice of texts, for a value that was typed.",
    example: "set pull = 60 mbar try 20 mbar to 200 mbar step 5 mbar\nset warm = boils_at(pull)",
    gives: "pull = 60 mbar",
  },
  {
    word: "wait",
    says: "Puts a timer on a step.",
    example: 'step "Let it rest." wait 40 min',
    gives: "Let it rest. wait 40 min",
  },
  {
    word: "ask",
    says: "Leaves room in a step for a reading of a value, or of a column of a table.",
    example: 'set got = blank in mL\nstep "Measure it." ask got',
    gives: "Measure it. ask got",
  },
  {
    word: "expect",
    says: "Says which reading is planned; one that is further off than its ± is shown as a deviation.",
    example: 'set got = blank in mL\nstep "Measure it." ask got expect 400 mL ± 10 mL',
    gives: "Measure it. ask got expect 400 ± 10 mL",
  },
  {
    word: "by",
    says: "Says along what the values of a chart are laid out.",
    example: `${STOCK}chart "Stock" : dots stock.volume by stock.item`,
    gives: "Stock: 2 points",
  },
  {
    word: "for",
    says: "Names the variable of a curve, and its ends behind it.",
    example: 'chart "Boiling" : curve boils_at(p) for p from 20 mbar to 200 mbar',
    gives: "Boiling: 65 points",
  },
  {
    word: "mark",
    says: "Marks the point of a curve at which the book works.",
    example:
      'set pull = 60 mbar\nchart "Boiling" : curve boils_at(p) for p from 20 mbar to 200 mbar mark pull',
    gives: "Boiling: 65 points",
  },
  ...(["bars", "line", "dots"] as const).map((word) => ({
    word,
    says: {
      bars: "Draws a bar for each entry.",
      line: "Draws points that belong together, joined in the order of the rows.",
      dots: "Draws a dot for each entry.",
    }[word],
    example: `${STOCK}chart "Stock" : ${word} stock.volume by stock.item`,
    gives: "Stock: 2 points",
  })),
  {
    word: "curve",
    says: "Draws a formula over a range of its variable.",
    example: 'chart "Boiling" : curve boils_at(p) for p from 20 mbar to 200 mbar',
    gives: "Boiling: 65 points",
  },
  // ---- no words of the language
  {
    word: "per",
    says: "Is no word of the language: a stroke in the unit says it.",
    example: "11.20 GBP/L * 3 L",
    gives: "33.60 GBP",
  },
  {
    word: "each",
    says: "Is no word of the language: arithmetic goes through a list entry by entry, and a `column` through its rows.",
    example: "[1 L, 2 L] * 2",
    gives: "2 L, 4 L",
  },
];

/** The entries about a word; `so` and `that` are `so that`. */
export function wordsCalled(word: string): readonly LanguageWord[] {
  const wanted = word === "so" || word === "that" ? "so that" : word;
  return languageWords.filter((entry) => entry.word === wanted);
}
