import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/**
 * What a cook must not be told a number for, and what must not go unsaid: each with figures, in the words of the bench,
 * and with what to do instead.
 */

const book = openBook("");
const asked = (formula: string) => book.ask(formula);
/** Everything that is said beside the answer: what came up in the working out, and what always stands there. */
const saidOf = ({ notes, cautions = [] }: ReturnType<typeof asked>): string =>
  [...notes, ...cautions].join(" | ");

describe("is refused, with what to do", () => {
  it.each([
    // A refractometer reading turned into solids, or into the water of honey, with alcohol or salt in it.
    [
      "solids_from_index(1.3638 nD, strength: 10 %vol)",
      /this alcohol alone reads 3\.5 °Bx/u,
      /Drive the alcohol off/u,
    ],
    ["solids_at_20(18 °Bx, 25 °C, salt: 4 %)", /this salt alone reads 4\.8 °Bx/u, /reduce_salty/u],
    ["water_in(18 °Bx, strength: 12 %vol)", /alone reads 4\.3 °Bx/u, /Drive the alcohol off/u],
    ["acid_corrected(10 °Bx, 5 %, salt: 2 %)", /this salt alone reads 2\.4 °Bx/u, /reduce_salty/u],
    ["acid_corrected(10 °Bx, 5 %, strength: 5 %vol)", /alone reads 1\.7 °Bx/u, /Drive the alcohol off/u],
    ["honey_moisture(1.4915 nD, strength: 2 %mas)", /this alcohol by about 1 %/u, /infuse_honey/u],
    ["honey_moisture_from_solids(78 °Bx, strength: 2 %mas)", /does not show the water/u, /Go by weight/u],
    ["reduce(2000 g, 14.4 °Bx, salt: 4.5 %, to: 45 °Bx)", /alone reads 5\.4 °Bx/u, /reduce_salty/u],
    ["solids_from_density(1010 kg/m3, strength: 10 %vol)", /hides sugar/u, /Drive the alcohol off/u],
    // Strength from a density, an alcoholometer, a flask or drops with sugar in it: how much it would mislead.
    ["strength_from_density(960 kg/m3, sugar: 20 g/L)", /about 4 %vol too low/u, /behind_sugar/u],
    [
      "strength_from_density(1010 kg/m3, sugar: 200 g/L)",
      /says nothing about the strength/u,
      /behind_sugar/u,
    ],
    ["strength_at_20(40 %vol, 25 °C, sugar: 30 g/L)", /about 6 %vol too low/u, /behind_sugar/u],
    ["strength_by_flask(94.71 g, 99.72 g, sugar: 30 g/L)", /about 6 %vol too low/u, /behind_sugar/u],
    ["strength_by_drops(12 °Bx, sugar: 30 g/L)", /Sugar reads as alcohol/u, /behind_sugar/u],
    // A target outside the stocks.
    ["let_down(1 L, 40 %vol, to: 50 %vol)", /40 %vol cannot become 50 %vol/u, /fortify/u],
    [
      "fortify(1 L, 12 %vol, 40 %vol, to: 50 %vol)",
      /12 %vol and 40 %vol .* 50 %vol is not there/u,
      /stronger/u,
    ],
    [
      "cross_parts(40 %vol, 30 %vol, to: 50 %vol)",
      /40 %vol and 30 %vol .* 50 %vol does not/u,
      /richer|stock/u,
    ],
    [
      "compose(1 L, [1 L, 2 L], strength: [40 %vol, 0 %vol], to_strength: 50 %vol)",
      /to_strength stands in the way.*0 %vol to 40 %vol/u,
      /nearest that is possible is 40 %vol/u,
    ],
    // Cold that freezes, cold that does not hold, a bath that does not boil.
    ['stays_liquid_to("propylene", 20 %, coolant: -10 °C)', /-7\.17 °C.*slush/u, /More glycol|more glycol/u],
    ["settle(40 °C, 30 °C)", /nothing would condense/u, /colder coolant/u],
    ["lost_past(0.5 L/min, 30 mbar, 80 %vol, 20 °C)", /would boil at 53\.8 mbar itself/u, /colder coolant/u],
    ["run_time(800 mL, 40 %vol, 50 mbar, 28 °C, 31.6 W/K, leave: 7.84 %vol)", /29\.5 °C then/u, /./u],
    ["distil(800 mL, 40 %vol, 50 mbar, leave: 7.8 %vol, bath: 22 °C)", /nothing comes over/u, /warmer bath/u],
    // A flask over half full.
    [
      "distil(1.2 L, 40 %vol, 50 mbar, take: 300 mL, flask: 2 L)",
      /1 L at most, half of it/u,
      /Split the charge/u,
    ],
    ["run_time(1.2 L, 40 %vol, 50 mbar, 40 °C, 30 W/K, take: 300 mL, flask: 2 L)", /half of it/u, /Split/u],
    ["cuts(1.2 L, 40 %vol, 50 mbar, [50 mL], flask: 2 L)", /half of it/u, /Split/u],
    ["distil_at(1.2 L, 40 %vol, 22 °C, take: 300 mL, flask: 2 L)", /half of it/u, /Split/u],
    ["alcohol_out(1.2 L, 5.2 %vol, 40 mbar, to: 0.5 %vol, flask: 2 L)", /half of it/u, /one third/u],
    ["infuse_honey_limit(600 g, 18 %, flask: 1 L, fill: 60 %)", /at most half/u, /a third/u],
    // One word for two things that hold the water.
    ["boils_at(50 mbar, solids: 40 °Bx, activity: 0.9)", /only one of them/u, /activity/u],
  ])("%s", (formula, says, help) => {
    const answer = asked(formula);
    expect(answer.state, answer.text).toBe("fault");
    expect(answer.message).toMatch(says);
    expect(answer.help).toMatch(help);
  });
});

describe("is answered, with a caution in so many words", () => {
  it.each([
    ["settle(40 °C, -10 °C).ices", /can freeze on the coil.*\+2 to \+5 °C/u],
    ["condensed_share(30 mbar, 0 %vol, -10 °C)", /At -5 °C the glass is colder than 0 °C.*ice on the coil/u],
    ["condensed_share(30 mbar, 20 %vol, -20 °C)", /begins to freeze: ice on the coil/u],
    ["lost_past(5 mL/min, 30 mbar, 0 %vol, -10 °C)", /ice on the coil/u],
    ["settle(40 °C, 20 °C, strength: 40 %vol).holds", /condenser is too warm for this pressure/u],
    ["settle(35 °C, -10 °C, strength: 40 %vol).receiver_below", /receiver at room temperature is too warm/u],
    ["condensed_share(30 mbar, 80 %vol, 15 °C)", /Nothing condenses/u],
    ["condensed_share(30 mbar, 80 %vol, 7 °C)", /Part of the vapour goes to the pump/u],
    [
      "distil(800 mL, 40 %vol, 50 mbar, leave: 7.8 %vol, bath: 30 °C).stalls",
      /cannot finish this run: it stops by itself with 15\.4 %vol/u,
    ],
    ["settle(35 °C, -10 °C, strength: 40 %vol).holds", /about 81 %vol, can be lit from about 20 °C on/u],
    ["flash_point(60 %vol, room: 24 °C)", /At this room.*above its flash point/u],
  ])("%s", (formula, caution) => {
    const answer = asked(formula);
    expect(answer.state).toBe("ok");
    expect(saidOf(answer)).toMatch(caution);
  });
  it("and not where there is nothing to fear", () => {
    expect(saidOf(asked("settle(35 °C, -10 °C, strength: 40 %vol, room: 12 °C).holds"))).not.toMatch(
      /be lit/u,
    );
    expect(saidOf(asked("settle(40 °C, 3 °C).holds"))).not.toMatch(/be lit/u);
    for (const formula of [
      "condensed_share(50 mbar, 80 %vol, -10 °C)",
      "condensed_share(10 mbar, 0 %vol, 1 °C)",
    ])
      expect(saidOf(asked(formula))).not.toMatch(/freeze/u);
    expect(saidOf(asked("flash_point(20 %vol)"))).not.toMatch(/At this room/u);
  });
});

describe("% vol is never blended by volume", () => {
  it("in the Pearson square and in a marriage, which go by mass and show the contraction", () => {
    // By volume it would be 1000 mL of 96 and 1400 mL of water; by mass the parts measure 70.5 mL more.
    expect(asked("cross_fill(2400 mL, 96 %vol, 0 %vol, to: 40 %vol).lean").value).toBeCloseTo(1470.5, 1);
    expect(asked("marry([1 L, 1 L], [96 %vol, 0 %vol]).contraction").value).toBeGreaterThan(50);
    expect(asked("cross_fill(2400 mL, 96 %vol, 0 %vol, to: 40 %vol).lean").notes.join()).toMatch(
      /Mixed by mass/u,
    );
  });
  it("nor a volume of alcohol with a strength by mass", () => {
    const answer = asked("1 kg * 40 %vol");
    expect(answer.state).toBe("fault");
    expect(answer.help).toMatch(/pure_mass|pure_volume/u);
  });
});
