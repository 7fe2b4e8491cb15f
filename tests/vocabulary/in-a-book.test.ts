import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

describe("totals, look-up, the day and aroma in a book", () => {
  const book = openBook(`table stock
| item       | strength  | on (date)  |
| Juniper    | 61 %vol   | 2026-02-03 |
| lemon peel | 49 %vol   |            |

table doses
| item       | volume |
| lemon peel | 40 mL  |
| juniper    | 60 mL  |
| jniper     | 60 mL  |
column strength = pick(stock.strength, item)
column pure = volume * strength
foot volume = sum(volume)

set shares = share_out(doses.volume)
set large = sum(doses.volume where volume > 1 L) + 1 mL
set latest = largest(stock.on)
set plan = day_plan(doses.item, [95 min, 80 min, 60 min], 30 min, ends: "12:00")
set over = comes_over(["linalool", "eugenol"], 1 L, 40 %vol, 50 mbar, 400 mL).taken
set bottles = whole([2.5 L, 3.7 L] / 500 mL)
set gone = mean([blank, blank])
set same = sum([5 ± 1 g, 3 g]) - sum([5 g, 3 g])
`);
  const answers = new Map(book.answers().map((a) => [a.name, a]));
  const text = (name: string) => answers.get(name)?.text;

  it("joins two tables by name, and a misspelled name spoils its own row only", () => {
    expect(text("doses.juniper.strength")).toBe("61 %vol");
    expect(text("doses.`lemon peel`.pure")).toBe("19.6 mL");
    const missed = answers.get("doses.jniper.strength")!;
    expect(missed.state).toBe("fault");
    expect(missed.message).toMatch(/no row “jniper”; “Juniper” is near/);
  });
  it("shares out a column under its row names", () => {
    expect(["`lemon peel`", "juniper", "jniper"].map((n) => text(`shares.${n}`))).toEqual([
      "25 %",
      "37.5 %",
      "37.5 %",
    ]);
  });
  it("has a sum of nothing in the unit of its column", () => {
    expect(text("large")).toBe("1 mL");
  });
  it("finds the latest date and counts the blank", () => {
    expect(text("latest")).toBe("2026-02-03");
    expect(answers.get("latest")!.notes).toEqual(["1 of 2 is blank"]);
  });
  it("plans a day under the names of its rows, each remark at its run", () => {
    expect(text("plan.`lemon peel`.starts_at")).toBe("08:45");
    expect(text("plan.jniper.over")).toBe("130 min");
    expect(answers.get("plan.`lemon peel`.ends_at")!.notes).toEqual([]);
    expect(answers.get("plan.jniper.ends_at")!.notes.join()).toMatch(
      /jniper does not fit.*14:10, after 12:00/,
    );
  });
  it("maps over lists of compounds and of volumes", () => {
    expect(text("over.1")).toBe("46.261 %");
    expect(answers.get("over.2")!.notes.join()).toMatch(/of the eugenol/);
    expect([text("bottles.1"), text("bottles.2")]).toEqual(["5", "7"]);
  });
  it("is a gap when all is blank", () => {
    expect(answers.get("gone")!.state).toBe("gap");
  });
});

describe("a part that does not apply this time", () => {
  const book = openBook("");
  const fault = (formula: string): string => {
    const answer = book.ask(formula);
    expect(answer.state, formula).toBe("fault");
    return [answer.message, answer.help].join(" ");
  };
  it.each([
    [
      "make_up(1 L, [900 mL], [80 %vol], to: 42 %vol).spirit",
      /cannot be made up.*0\.72 L.*at least 1\.715 L/u,
    ],
    ["make_up(1 L, [980 mL], [10 %vol], to: 42 %vol).water_mass", /cannot be made up.*of water.*strongest/u],
    ["distil(1 L, 40 %vol, 50 mbar, take: 300 mL).stalls", /only when `bath` is given/u],
    ["distil(1 L, 40 %vol, 50 mbar, take: 300 mL, bath: 60 °C).stalls_at", /stalls nowhere/u],
    ["distil(1 L, 0 %vol, 50 mbar, take: 300 mL).recovered", /holds no alcohol/u],
    ["distil_at(1 L, 0 %vol, 30 °C, take: 300 mL).first_drops", /holds no alcohol/u],
    ["run_time(1 L, 40 %vol, 50 mbar, 35 °C, 30 W/K, take: 300 mL).warm_up", /charge_temperature/u],
    ["missing(750 g, 368 g, 370 g).pure_volume", /strengths are given/u],
    ["soak(800 mL, 60 %vol, 120 g, 80 %).drains", /wet_marc/u],
    ["soak(800 mL, 0 %vol, 120 g, 80 %, wet_marc: 114 g).share_held", /no alcohol in it/u],
    ["reduce_salty(2000 g, 1 %, 30 °Bx, to_mass: 640 g).activity_low", /nothing tells how low/u],
    ["reduce(1 kg, 15 °Bx, to: 40 °Bx).acid", /acid before is given/u],
    ['day_plan(["a"], [30 min], [20 min]).over', /`ends` says/u],
    ["spirit_book(0 L, 0 L, 0 L, 0 L, 0 L).share", /Nothing went through/u],
    ["compose(1 L, [1 L, 2 L], strength: [96 %vol, 0 %vol], to_strength: 42 %vol).cost", /prices/u],
  ])("%s says why", (formula, why) => {
    expect(fault(formula)).toMatch(why);
  });
  it("spoils nothing for the runs that have it", () => {
    const [water, spirit] = book.ask("distil(1 L, [0 %vol, 40 %vol], 50 mbar, take: 300 mL).recovered")
      .parts!;
    expect(water!.state).toBe("fault");
    expect(spirit!.state).toBe("ok");
  });
  it("is still a part unknown when no such part ever is", () => {
    expect(fault("make_up(1 L, [900 mL], [80 %vol], to: 42 %vol).shrot")).toMatch(
      /no part `shrot`.*`short`/u,
    );
  });
});

describe("a volume where a mass is wanted", () => {
  const book = openBook("");
  it.each([
    ["infuse_honey_limit(600 g, 18.5 %, budget: 300 mL, to: 18 %)", "mass_of(300 mL, 0 %vol)"],
    ["salt_activity(10 g, 100 mL)", "mass_of(100 mL, 0 %vol)"],
    ["activity(100 mL, sucrose: 50 g)", "mass_of(100 mL, 0 %vol)"],
    ["ice_point(640 mL, sucrose: 100 g)", "mass_of(640 mL, 0 %vol)"],
    ["ice_share(-14 °C, 640 g, ethanol: 20 mL)", "mass_of(20 mL, 100 %vol)"],
    ["reduce(1 L, 15 °Bx, to: 40 °Bx)", "1 L * syrup_density(15 °Bx)"],
    ["infuse_honey(1 L, 18 %, 100 g)", "1 L * honey_density(18 %)"],
    ["infuse_honey(1 kg, 18 %, 100 mL)", "mass_of(100 mL, 40 %vol)"],
    ["volume_of(1 L, 40 %vol)", "mass_of(1 L, 40 %vol)"],
  ])("%s is told what to write", (formula, write) => {
    const answer = book.ask(formula);
    expect(answer.state).toBe("fault");
    expect(answer.help).toContain(`\`${write}\``);
    const mass = book.ask(write);
    expect([mass.state, mass.text]).toEqual(["ok", expect.stringMatching(/ k?g$/u)]);
  });
  it("is weighed where nobody pours it", () => {
    for (const formula of ["sweeten(1 L, 40 %vol, 300 mL)", "soak(800 mL, 60 %vol, 120 mL, 80 %)"])
      expect(book.ask(formula).help).toMatch(/^Weigh it/u);
  });
  it("and a flask has room, not weight", () => {
    expect(book.ask("scale_run(84 min, 2 kg, to: 10 L).time").help).toMatch(/room inside/u);
  });
});
