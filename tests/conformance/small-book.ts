/** The small book that stands before the examples of the language. */
export const SMALL = `set a = 2.4 L
set jars = 4
set s = "Juniper"

table t
| item      | volume (mL) | strength  | price (GBP/L) | on (date)  |
| juniper   | 2400        | 61.2 %vol | 11.20         | 2026-02-03 |
| bay leaf  | 350         |           | 21.50         | 2026-02-24 |
column cost = volume * price
foot cost = sum(cost)
`;
