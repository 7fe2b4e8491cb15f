/** A value that a book must give, and why that number is right. */
export interface Expected {
  readonly path: string;
  /** In `unit`; a text for texts. */
  readonly value: number | string;
  readonly unit?: string;
  /** How far off it may be, in `unit`. 0 means exactly. */
  readonly within?: number;
  readonly because: string;
}

const r22 =
  "worked out apart from this project (numpy) from the density formula of OIML R 22 at 20 °C, by mass";
const vle =
  "worked out apart from this project (scipy) from the vapour pressures and activity model of docs/science.md";

/**
 * What each book must give. Numbers come from hand arithmetic, a balance, a published table or a calculation
 * outside this project; none is copied from what the book printed.
 */
export const expected: Readonly<Record<string, readonly Expected[]>> = {
  "harbour-gin": [
    {
      path: "distillates.foot.volume",
      value: 4300,
      unit: "mL",
      within: 0,
      because: "2400 + 800 + 350 + 550 + 200",
    },
    { path: "distillates.juniper.spirit", value: 1468.8, unit: "mL", within: 1e-9, because: "2400 × 0.612" },
    {
      path: "distillates.foot.spirit",
      value: 2613.25,
      unit: "mL",
      within: 1e-9,
      because: "1468.8 + 464 + 173.25 + 365.2 + 142",
    },
    { path: "distillates.`bay leaf`.cost", value: 4.8, unit: "GBP", within: 0, because: "0.2 L × 24 GBP/L" },
    {
      path: "distillates.foot.cost",
      value: 60.7175,
      unit: "GBP",
      within: 0,
      because: "26.88 + 11.2 + 7.525 + 10.3125 + 4.8, exact decimals",
    },
    { path: "blend.volume", value: 4298.9222, unit: "mL", within: 1e-3, because: r22 },
    { path: "blend.strength", value: 60.78849, unit: "%vol", within: 1e-4, because: r22 },
    { path: "water.add", value: 1981.2535, unit: "mL", within: 1e-3, because: r22 },
    { path: "water.add_mass", value: 1977.6896, unit: "g", within: 1e-3, because: r22 },
    {
      path: "water.total",
      value: 2613.25 / 0.42,
      unit: "mL",
      within: 1e-6,
      because: "the alcohol is kept: 2613.25 mL of it at 42 %vol",
    },
    { path: "bottles", value: 12, unit: "", within: 0, because: "6222 mL hold twelve times 500 mL" },
    {
      path: "left_over",
      value: 2613.25 / 0.42 - 6000,
      unit: "mL",
      within: 1e-6,
      because: "what twelve bottles leave",
    },
    {
      path: "spirit_due",
      value: 6.8859,
      unit: "GBP",
      within: 0,
      because: "32.79 GBP/L × 0.5 L × 0.42, exact decimals",
    },
    {
      path: "per_bottle",
      value: 13.3,
      unit: "GBP",
      within: 0,
      because: "60.7175 / 12 + 1.35 + 6.8859 = 13.2957, to the penny",
    },
    {
      path: "flash",
      value: 21.9,
      unit: "°C",
      within: 0.2,
      because: "the published table has 22 °C at 60 %vol and 21 °C at 70 %vol; a straight line between",
    },
  ],
  "bay-honey": [
    {
      path: "moisture",
      value: 18.0011,
      unit: "%",
      within: 2e-4,
      because: "(−0.26810 − log10 0.4915) / 0.002243, by hand",
    },
    {
      path: "run.taken.water",
      value: 312.81835,
      unit: "g",
      within: 1e-3,
      because: "mass balance by hand, with 18.0011 %",
    },
    { path: "run.taken.alcohol", value: 175, unit: "g", within: 1e-6, because: "35 % of 500 g, all of it" },
    {
      path: "run.left.mass",
      value: 1012.18165,
      unit: "g",
      within: 1e-3,
      because: "(819.989 + 10) g of solids are 82 %",
    },
    {
      path: "run.mixed_moisture",
      value: 33.000736,
      unit: "%",
      within: 1e-4,
      because: "(180.011 + 315) g in 1500 g",
    },
    {
      path: "pull",
      value: 27.872,
      unit: "mbar",
      within: 0.01,
      because: "0.5856 (0.267 + 0.0177 × 18) times the vapour pressure of water at 32 °C, 47.595 mbar",
    },
    { path: "first_pull", value: 22.86, unit: "°C", within: 0.01, because: vle },
    {
      path: "limit.infusion",
      value: 671.3235,
      unit: "g",
      within: 1e-3,
      because: "(420 − 180.011 + 9/41 × 819.989) / (0.63 − 9/41 × 0.02), the mass balance turned round",
    },
    { path: "limit.taken.water", value: 420, unit: "g", within: 1e-6, because: "the budget is what binds" },
    {
      path: "limit.left.mass",
      value: 1016.3603,
      unit: "g",
      within: 1e-3,
      because: "(819.989 + 13.426) g are 82 %",
    },
  ],
  "coriander-trials": [
    { path: "finished", value: 7, unit: "", within: 0, because: "eight rows, one not run yet" },
    { path: "runs.foot.got", value: 3549, unit: "mL", within: 0, because: "added by hand" },
    { path: "runs.foot.alcohol", value: 2786.898, unit: "mL", within: 1e-9, because: "added by hand" },
    {
      path: "runs.1a.yield",
      value: (395.92 / 540) * 100,
      unit: "%",
      within: 1e-6,
      because: "395.92 mL of 540 mL",
    },
    {
      path: "runs.1b.gain",
      value: ((392.922 - 395.92) / 540) * 100,
      unit: "%",
      within: 1e-6,
      because: "less 2.998 mL",
    },
    { path: "typical", value: 73.7274603, unit: "%", within: 1e-6, because: "numpy mean" },
    { path: "spread", value: 1.62793789, unit: "%", within: 1e-6, because: "numpy std, ddof 1" },
    { path: "relative", value: 2.20804824, unit: "%", within: 1e-6, because: "the ratio of the two" },
    {
      path: "band.low",
      value: 72.2218689,
      unit: "%",
      within: 1e-5,
      because: "scipy t, 6 degrees of freedom",
    },
    {
      path: "band.high",
      value: 75.2330518,
      unit: "%",
      within: 1e-5,
      because: "scipy t, 6 degrees of freedom",
    },
    { path: "change.difference", value: 2.83858025, unit: "%", within: 1e-6, because: "75.3495 − 72.5109" },
    {
      path: "change.low",
      value: 1.54549,
      unit: "%",
      within: 1e-4,
      because: "scipy, Welch, 3.1956 degrees of freedom",
    },
    { path: "change.high", value: 4.13167, unit: "%", within: 1e-4, because: "scipy, Welch" },
    {
      path: "change.chance_alone",
      value: 0.5421512,
      unit: "%",
      within: 1e-5,
      because: "scipy ttest_ind, equal_var False",
    },
    {
      path: "trend",
      value: 4.0985856,
      unit: "%",
      within: 1e-5,
      because: "28 times the slope of numpy polyfit against days",
    },
  ],
  "still-setting": [
    { path: "apart", value: 40, unit: "K", within: 0, because: "35 °C less −5 °C" },
    { path: "by_dial", value: 60, unit: "mbar", within: 1e-9, because: "1005 mbar less 945 mbar" },
    { path: "liquids.`water distillate`.boils", value: 36.159, unit: "°C", within: 0.002, because: vle },
    { path: "liquids.porter.boils", value: 33.768, unit: "°C", within: 0.002, because: vle },
    { path: "liquids.macerate.boils", value: 24.955, unit: "°C", within: 0.002, because: vle },
    { path: "liquids.`strong spirit`.boils", value: 21.793, unit: "°C", within: 0.002, because: vle },
    { path: "liquids.macerate.wanted", value: 53.298, unit: "mbar", within: 0.005, because: vle },
    { path: "liquids.`water distillate`.wanted", value: 28.11, unit: "mbar", within: 0.005, because: vle },
    {
      path: "setting",
      value: 53.298,
      unit: "mbar",
      within: 0.005,
      because: "the same question asked backwards",
    },
    { path: "vapour", value: 81.399, unit: "%vol", within: 0.005, because: vle },
  ],
  "dry-cider": [
    { path: "start", value: 26.3815, unit: "°C", within: 0.002, because: vle },
    { path: "alcohol_in", value: 49.6, unit: "mL", within: 1e-9, because: "800 × 0.062" },
    {
      path: "alcohol_off",
      value: 45.6,
      unit: "mL",
      within: 1e-3,
      because: "49.6 mL less the 4 mL that 0.5 %vol leave in 800 mL",
    },
    { path: "run.total", value: 800, unit: "mL", within: 1e-6, because: "as much comes back as went in" },
    {
      path: "run.taken.volume",
      value: 217.631,
      unit: "mL",
      within: 0.01,
      because: `${vle}, Rayleigh run to 4 mL of alcohol`,
    },
    { path: "run.taken.strength", value: 20.9529, unit: "%vol", within: 0.001, because: vle },
    { path: "pot_at_end", value: 0.687793, unit: "%vol", within: 1e-4, because: vle },
    { path: "run.add", value: 218.428, unit: "mL", within: 0.01, because: `218.035 g of water; ${vle}` },
  ],
};
