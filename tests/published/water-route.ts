/** What water by the open library iapws is compared with, and how near it must be; used by water.test.ts and docs/accuracy.md. */

/** Vapour pressure against IAPWS-IF97, relative. */
export const PRESSURE_WITHIN = 1.3e-4;
/** Heat of evaporation against IAPWS-IF97, J/kg, from this temperature on (°C). */
export const HEAT_WITHIN = 500;
export const HEAT_FROM = 5;
/** Density against IAPWS-95 at one atmosphere, kg/m³. */
export const DENSITY_WITHIN = 0.0075;

export const secondRoute: readonly {
  readonly what: string;
  readonly within: string;
  readonly range: string;
}[] = [
  {
    what: "vapour pressure (`pressure_for`, `boils_at`)",
    within: `${100 * PRESSURE_WITHIN} %`,
    range: "0.01 to 100 °C",
  },
  {
    what: "heat of evaporation (`chill_load`, `know_still`, `run_time`)",
    within: `${HEAT_WITHIN / 1000} kJ/kg`,
    range: `${HEAT_FROM} to 100 °C`,
  },
  { what: "density (`spirit_density` at 0 %vol)", within: `${DENSITY_WITHIN} kg/m³`, range: "0.01 to 40 °C" },
];
