import { describe, expect, it } from "vitest";
import { Trouble } from "../../src/quantity";
import { ask } from "./physics-calling";

const trouble = (name: string, given: Parameters<typeof ask>[1]): Trouble => {
  try {
    ask(name, given);
  } catch (error) {
    if (error instanceof Trouble) return error;
    throw error;
  }
  throw new Error(`${name} gave an answer`);
};
const charge = { volume: "1 L", strength: "40 %vol", pressure: "50 mbar" } as const;
const num = (value: unknown) => value as number;

describe("distil", () => {
  it("keeps the books between its parts", () => {
    const run = ask("distil", { ...charge, take: "400 mL", lost: "3 %" }).si;
    const gone = num(run["taken.mass"]) / 0.97 + num(run["left.mass"]);
    expect(gone).toBeCloseTo(0.9480452, 7);
    const alcohol = num(run["taken.alcohol"]) / 0.97 + num(run["left.volume"]) * num(run["left.strength"]);
    expect(alcohol).toBeCloseTo(4e-4, 12);
    expect(num(run["taken.volume"])).toBeCloseTo(4e-4, 12);
    expect(num(run.recovered)).toBeCloseTo(num(run["taken.alcohol"]) / 4e-4, 12);
    expect(num(run["taken.alcohol"])).toBeCloseTo(num(run["taken.volume"]) * num(run["taken.strength"]), 12);
  });
  it("shows the first drops beside the whole: they are stronger", () => {
    const run = ask("distil", { ...charge, take: "500 mL" }).si;
    expect(100 * num(run.first_drops)).toBeCloseTo(81.43, 2);
    expect(num(run.first_drops)).toBeGreaterThan(num(run["taken.strength"]));
  });
  it("runs water with take, and refuses to leave a strength of it", () => {
    const water = ask("distil", { ...charge, strength: "0 %vol", take: "300 mL" });
    expect(water.si["taken.strength"]).toBe(0);
    expect(water.si.recovered).toBeUndefined();
    expect(water.cautions.join()).toContain("perishable");
    expect(trouble("distil", { ...charge, strength: "0 %vol", leave: "1 %vol" }).code).toBe("not-reached");
  });
  it("wants one end, not two and not none", () => {
    expect(trouble("distil", { ...charge, take: "400 mL", leave: "5 %vol" }).code).toBe("take-and-leave");
    expect(trouble("distil", charge).code).toBe("no-end");
    expect(trouble("distil", { ...charge, take: "1.2 L" }).code).toBe("more-than-charge");
    expect(trouble("distil", { ...charge, leave: "50 %vol" }).code).toBe("not-reached");
    expect(trouble("distil", { ...charge, take: "-5 mL" }).code).toBe("nothing-there");
    expect(trouble("distil", { ...charge, volume: "0 L", take: "5 mL" }).code).toBe("nothing-there");
    expect(trouble("distil", { ...charge, take: "400 mL", reflux: "95 %" }).code).toBe("out-of-range");
    expect(trouble("distil", { ...charge, pressure: "2 bar", take: "400 mL" }).says).toContain("1100 mbar");
  });
  it("takes a mass as well as a volume", () => {
    const byMass = ask("distil", { ...charge, take: "300 g" }).si;
    expect(num(byMass["taken.mass"])).toBeCloseTo(0.3, 12);
  });
  it("says where a bath stops the run, and goes there when nothing else is asked", () => {
    const asked = ask("distil", { ...charge, leave: "5 %vol", bath: "30 °C", still_gap: "2 K" });
    expect(asked.si.stalls).toBe(true);
    expect(100 * num(asked.si.stalls_at)).toBeCloseTo(12.17, 2);
    expect(asked.cautions.join()).toContain("cannot finish");
    expect(100 * num(asked.si["left.strength"])).toBeCloseTo(5, 9);
    const toThere = ask("distil", { ...charge, bath: "30 °C", still_gap: "2 K" });
    expect(num(toThere.si["left.strength"])).toBeCloseTo(num(asked.si.stalls_at), 8);
    const short = ask("distil", { ...charge, leave: "20 %vol", bath: "30 °C", still_gap: "2 K" });
    expect(short.si.stalls).toBe(false);
    const warm = ask("distil", { ...charge, leave: "5 %vol", bath: "45 °C" });
    expect(warm.si.stalls).toBe(false);
    expect(warm.si.stalls_at).toBeUndefined();
    expect(trouble("distil", { ...charge, bath: "45 °C" }).code).toBe("no-end");
    expect(trouble("distil", { ...charge, bath: "22 °C" }).code).toBe("bath-too-cold");
    const never = trouble("distil", { ...charge, leave: "5 %vol", bath: "22 °C" });
    expect(never.says).toMatch(/boils at 21\.96 °C .* to 19 °C only: nothing comes over/u);
    expect(trouble("distil", { ...charge, take: "300 mL", bath: "20 °C" }).code).toBe("bath-too-cold");
  });
  it("shows assumptions about the still when they are made, and only then", () => {
    expect(ask("distil", { ...charge, take: "400 mL" }).notes.join()).not.toContain("Assumed");
    const assumed = ask("distil", {
      ...charge,
      take: "400 mL",
      reflux: "10 %",
      carry_over: "2 %",
      lost: "1 %",
    });
    expect(assumed.notes.filter((note) => note.startsWith("Assumed")).length).toBe(3);
  });
  it("warns of a pot nearly dry and of a rest that is fresh food", () => {
    expect(ask("distil", { ...charge, take: "930 mL" }).cautions.join()).toContain("nearly dry");
    expect(ask("distil", { ...charge, take: "450 mL" }).cautions.join()).toContain("fresh food");
  });
  it("has no error in what was asked, whether volume or mass", () => {
    expect(Math.abs(ask("distil", { ...charge, take: "300 g" }).model["taken.mass"]!)).toBeLessThan(1e-12);
    expect(Math.abs(ask("distil", { ...charge, take: "300 mL" }).model["taken.volume"]!)).toBeLessThan(1e-15);
  });
  it("is as sure as its vapour: a richer one gives more strength over and less left, together", () => {
    const model = ask("distil", { ...charge, take: "200 mL" }).model;
    expect(100 * model["taken.strength"]!).toBeGreaterThan(0.2);
    expect(100 * model["taken.strength"]!).toBeLessThan(1.2);
    expect(model["left.strength"]!).toBeLessThan(0);
    expect(model.end_temperature!).toBeGreaterThan(0.29);
    const far = ask("distil", { ...charge, take: "600 mL" }).model;
    expect(far["taken.strength"]!).toBeLessThan(model["taken.strength"]!);
    expect(ask("distil", { ...charge, bath: "30 °C" }).model["left.strength"]).not.toBe(0);
  });
});

describe("distil_at and cuts", () => {
  it("a held pot keeps its temperature and lets the pressure fall", () => {
    const held = ask("distil_at", {
      volume: "1 L",
      strength: "40 %vol",
      temperature: "22 °C",
      leave: "10 %vol",
    }).si;
    expect(num(held.start_temperature)).toBe(295.15);
    expect(num(held.end_temperature)).toBe(295.15);
    expect(num(held.last_pressure)).toBeLessThan(num(held.first_pressure));
    const pull = ask("pressure_for", { temperature: "22 °C", strength: "10 %vol" }).si[""];
    expect(num(held.last_pressure)).toBeCloseTo(num(pull), 4);
  });
  it("strength and yield hardly differ from the run at one pressure", () => {
    const held = ask("distil_at", {
      volume: "1 L",
      strength: "40 %vol",
      temperature: "22 °C",
      take: "450 mL",
    }).si;
    const one = ask("distil", { ...charge, take: "450 mL" }).si;
    expect(100 * Math.abs(num(held["taken.strength"]) - num(one["taken.strength"]))).toBeLessThan(0.5);
  });
  it("jars together hold what one run gives", () => {
    const jars = ask("cuts", { ...charge, jars: ["100 g", "100 g", "150 g"] });
    const pure = jars.rows.reduce((sum, row) => sum + num(row.pure_volume), 0);
    const whole = ask("distil", { ...charge, take: "350 g" }).si;
    expect(pure).toBeCloseTo(num(whole["taken.alcohol"]), 11);
    expect(num(jars.rows.at(-1)!["left.strength"])).toBeCloseTo(num(whole["left.strength"]), 8);
  });
  it("refuses jars that hold nothing or more than there is", () => {
    expect(trouble("cuts", { ...charge, jars: ["100 mL", "0 mL"] }).code).toBe("nothing-there");
    expect(trouble("cuts", { ...charge, jars: ["600 mL", "600 mL"] }).code).toBe("more-than-charge");
  });
});

describe("time", () => {
  const bench = { ...charge, bath: "35 °C", per_kelvin: "30 W/K" } as const;
  it("the tail costs the day: half is over long before half the time", () => {
    const run = ask("run_time", { ...bench, take: "500 mL" }).si;
    expect(num(run.half_time)).toBeLessThan(0.4 * num(run.time));
    expect(run.limited_by).toBe("bath");
    expect(run.warm_up).toBeUndefined();
  });
  it("counts warming up when the charge's temperature is known", () => {
    const cold = ask("run_time", { ...bench, take: "300 mL", charge_temperature: "5 °C" }).si;
    expect(num(cold.warm_up)).toBeGreaterThan(60);
  });
  it("names chiller and bath in turn", () => {
    expect(ask("run_time", { ...bench, take: "500 mL", chill: "250 W" }).si.limited_by).toBe(
      "chiller first, then bath",
    );
  });
  it("is refused when the bath cannot boil the end", () => {
    const cold = trouble("run_time", { ...bench, bath: "29 °C", take: "550 mL" });
    expect(cold.code).toBe("bath-too-cold");
    expect(cold.says).toContain("cannot boil the end");
  });
  it("is longer for what holds its water", () => {
    const water = {
      volume: "1 kg",
      strength: "0 %vol",
      pressure: "40 mbar",
      bath: "45 °C",
      per_kelvin: "30 W/K",
      take: "200 g",
    };
    const plain = ask("run_time", water);
    const honey = ask("run_time", { ...water, activity: "0.7" });
    expect(num(honey.si.time)).toBeGreaterThan(num(plain.si.time));
    expect(plain.cautions.join()).toContain("Warm clock");
  });
  it("is as unsure as 0.3 K of boiling point makes it, and the chiller takes that away", () => {
    const run = { ...charge, volume: "800 mL", leave: "7.84 %vol", per_kelvin: "31.6 W/K" } as const;
    const relative = (more: Readonly<Record<string, string>>) => {
      const found = ask("run_time", { ...run, ...more });
      return Math.sqrt(Math.max(0, (found.model.time! / num(found.si.time)) ** 2 - 0.01));
    };
    const moved = (bath: number) =>
      num(ask("run_time", { ...run, bath: `${bath - 0.3} °C` }).si.time) /
        num(ask("run_time", { ...run, bath: `${bath} °C` }).si.time) -
      1;
    for (const bath of [33, 35, 45]) {
      expect(relative({ bath: `${bath} °C` }) / moved(bath)).toBeGreaterThan(0.8);
      expect(relative({ bath: `${bath} °C` }) / moved(bath)).toBeLessThan(1.25);
    }
    expect(relative({ bath: "40 °C", chill: "150 W" })).toBeLessThan(1e-6);
  });
  it("a bench timed with hardly a difference is no bench known, and says so", () => {
    const timed = { driven_off: "250 g", time: "20 min", pressure: "40 mbar" };
    const notes = (bath: string) => ask("know_still", { ...timed, bath }).notes.join();
    // Water boils at 28.96 °C there.
    expect(notes("29 °C")).toMatch(/differ by 0\.039 K only.*off by any amount/u);
    expect(notes("31 °C")).toMatch(/differ by 2 K only.*about 49 %/u);
    expect(notes("45 °C")).not.toMatch(/differ by/u);
  });
  it("a bench known from a run predicts that run", () => {
    const known = ask("know_still", {
      driven_off: "250 g",
      time: "20 min",
      bath: "45 °C",
      pressure: "40 mbar",
    }).si;
    const run = ask("run_time", {
      volume: "1 kg",
      strength: "0 %vol",
      pressure: "40 mbar",
      bath: "45 °C",
      per_kelvin: `${num(known.per_kelvin)} W/K`,
      take: "250 g",
    });
    expect(num(run.si.time) / 60).toBeCloseTo(20, 6);
    expect(
      trouble("know_still", { driven_off: "250 g", time: "20 min", bath: "25 °C", pressure: "40 mbar" }).code,
    ).toBe("bath-too-cold");
  });
});

describe("where it went", () => {
  it("three weighings tell what is missing, with strengths the alcohol too", () => {
    const lost = ask("missing", { charge: "750 g", got: "360 g", left: "360 g" });
    expect(num(lost.si.mass)).toBeCloseTo(0.03, 12);
    expect(lost.si.pure_volume).toBeUndefined();
    expect(lost.notes.join()).toContain("3 %");
    expect(ask("missing", { charge: "750 g", got: "380 g", left: "372 g" }).notes.join()).toContain(
      "More came out",
    );
  });
  it("volumes need their strengths, since they do not add", () => {
    expect(trouble("missing", { charge: "800 mL", got: "400 mL", left: "410 mL" }).code).toBe(
      "needs-strengths",
    );
    const run = ask("distil", {
      volume: "800 mL",
      strength: "40 %vol",
      pressure: "50 mbar",
      take: "400 mL",
    }).si;
    const balance = ask("missing", {
      charge: "800 mL",
      got: "400 mL",
      left: `${num(run["left.volume"]) * 1e6} mL`,
      strengths: [
        "40 %vol",
        `${100 * num(run["taken.strength"])} %vol`,
        `${100 * num(run["left.strength"])} %vol`,
      ],
    }).si;
    expect(Math.abs(num(balance.mass))).toBeLessThan(1e-9);
    expect(Math.abs(num(balance.pure_volume))).toBeLessThan(1e-12);
    expect(trouble("missing", { charge: "1 kg", got: "1 g", left: "1 g", strengths: ["40 %vol"] }).code).toBe(
      "list-length",
    );
  });
  it("a soak without a weighed marc tells the strength only", () => {
    const soaked = ask("soak", {
      volume: "800 mL",
      strength: "60 %vol",
      botanical: "120 g",
      moisture: "80 %",
    });
    expect(soaked.si.drains).toBeUndefined();
    expect(100 * num(soaked.si.strength_lost)).toBeCloseTo(6.216, 2);
    expect(soaked.notes.join()).toContain("estimate");
  });
  it("what drains and what the marc keeps are all there is", () => {
    const parts = ask("soak", {
      volume: "800 mL",
      strength: "60 %vol",
      botanical: "120 g",
      moisture: "80 %",
      wet_marc: "114 g",
    }).si;
    const alcohol = (num(parts.drains) + num(parts.spirit_held)) * num(parts.strength);
    expect(alcohol).toBeCloseTo(4.8e-4, 11);
  });
});

describe("alcohol_out", () => {
  const porter = { volume: "800 mL", strength: "5.2 %vol", pressure: "40 mbar" } as const;
  it("comes back to its volume at the strength that was asked", () => {
    const out = ask("alcohol_out", { ...porter, to: "0.5 %vol" });
    expect(num(out.si.total)).toBeCloseTo(8e-4, 12);
    expect(num(out.si["left.volume"]) * num(out.si["left.strength"])).toBeCloseTo(4e-6, 12);
    expect(num(out.si.add_mass) + num(out.si["left.mass"])).toBeCloseTo(
      num(ask("mass_of", { volume: "800 mL", strength: "0.5 %vol" }).si[""]),
      9,
    );
  });
  it("refuses a target at or above the drink, and none at all", () => {
    expect(trouble("alcohol_out", { ...porter, to: "5.2 %vol" }).code).toBe("target-outside");
    expect(trouble("alcohol_out", { ...porter, to: "0 %vol" }).help).toContain("0.05 %vol");
  });
  it("is less sure of the amount than of the balance", () => {
    const model = ask("alcohol_out", { ...porter, to: "0.5 %vol" }).model;
    expect(Math.abs(model["taken.volume"]!)).toBeGreaterThan(1e-6);
    expect(Math.abs(model["taken.alcohol"]!)).toBeLessThan(1e-12);
    expect(Math.abs(model.total!)).toBeLessThan(1e-12);
  });
});

describe("a flask over half full", () => {
  const charge = { volume: "1.2 L", strength: "12 %vol", pressure: "50 mbar" } as const;
  it("is refused with what it may hold", () => {
    const full = trouble("distil", { ...charge, take: "200 mL", flask: "2 L" });
    expect(full.code).toBe("flask-too-full");
    expect(full.says).toContain("1 L at most");
    expect(trouble("alcohol_out", { ...charge, to: "0.5 %vol", flask: "2 L" }).code).toBe("flask-too-full");
    const heat = { bath: "45 °C", per_kelvin: "30 W/K", take: "200 mL" };
    expect(trouble("run_time", { ...charge, ...heat, flask: "2 L" }).code).toBe("flask-too-full");
    expect(ask("distil", { ...charge, take: "200 mL", flask: "2.4 L" }).si.stalls).toBeUndefined();
  });
});
