import { expect, it } from "vitest";
import { call, q, show } from "../vocabulary/calling";

// Common practice, no source; the number computed here: (15/115)^4 is 0.00029, (15/115)^3 is 0.0022.
it("rinses 15 mL with 100 mL four times to a thousandth", () => {
  expect(show(call("rinses", { clings: q("15 mL"), rinse: q("100 mL"), to: q("0.1 %") }))).toBe("4");
});
