/**
 * The currencies of ISO 4217 (list one, with funds, metals and testing codes) by their count of minor
 * digits: the decimals in which an amount is paid. Codes that the list gives no minor unit (metals, units of
 * account) are shown with 0. Two decimals are the rule and not repeated.
 */
const BY_DIGITS: readonly (readonly [digits: number, codes: string])[] = [
  [
    0,
    "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF " +
      "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX",
  ],
  [
    2,
    "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE " +
      "CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD " +
      "HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK " +
      "MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD " +
      "RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH " +
      "USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG",
  ],
  [3, "BHD IQD JOD KWD LYD OMR TND"],
  [4, "CLF UYW"],
];

/** Minor digits by code, in alphabetical order of the codes. */
export const currencies: ReadonlyMap<string, number> = new Map(
  BY_DIGITS.flatMap(([digits, codes]) =>
    codes.split(" ").map((code): [string, number] => [code, digits]),
  ).sort(([a], [b]) => (a < b ? -1 : 1)),
);

/** Signs and everyday words for money, with the codes that they may mean. */
const signs: ReadonlyMap<string, readonly string[]> = new Map([
  ["€", ["EUR"]],
  ["£", ["GBP"]],
  ["$", ["USD", "CAD", "AUD", "NZD"]],
  ["¥", ["JPY", "CNY"]],
  ["₹", ["INR"]],
  ["₽", ["RUB"]],
  ["₺", ["TRY"]],
  ["₩", ["KRW"]],
  ["₪", ["ILS"]],
  ["₴", ["UAH"]],
  ["₫", ["VND"]],
  ["฿", ["THB"]],
  ["₦", ["NGN"]],
  ["₱", ["PHP"]],
  ["₸", ["KZT"]],
  ["₾", ["GEL"]],
  ["₡", ["CRC"]],
  ["₲", ["PYG"]],
  ["₵", ["GHS"]],
  ["₼", ["AZN"]],
  ["zł", ["PLN"]],
  ["Kč", ["CZK"]],
  ["Ft", ["HUF"]],
  ["kr", ["DKK", "NOK", "SEK", "ISK"]],
  ["Fr", ["CHF"]],
  ["Rs", ["INR", "PKR", "LKR", "NPR"]],
  ["euro", ["EUR"]],
  ["euros", ["EUR"]],
  ["dollar", ["USD", "CAD", "AUD", "NZD"]],
  ["dollars", ["USD", "CAD", "AUD", "NZD"]],
  ["quid", ["GBP"]],
  ["yen", ["JPY"]],
  ["franc", ["CHF", "XAF", "XOF"]],
  ["francs", ["CHF", "XAF", "XOF"]],
]);

/** The codes that a sign or word for money may mean (`€`: EUR), or undefined when it is none. */
export function currencySign(sign: string): readonly string[] | undefined {
  return signs.get(sign);
}
