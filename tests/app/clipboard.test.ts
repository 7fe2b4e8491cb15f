import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  fromClipboard,
  fromJson,
  fromTsv,
  OWN_TYPE,
  toClipboard,
  toHtml,
  toTsv,
} from "../../src/app/state/clipboard";

const noHtml = () => undefined;

describe("tab-separated text", () => {
  it("comes back as it went out, with tabs, line ends and quotes inside fields", () => {
    const field = fc.stringMatching(/^[ab"\t\n\r |=]*$/);
    fc.assert(
      fc.property(
        fc.array(fc.array(field, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 4 }),
        (rows) => {
          // A single empty field is the same text as nothing at all.
          if (rows.at(-1)!.length === 1 && rows.at(-1)![0] === "") return;
          expect(fromTsv(toTsv(rows))).toEqual(rows);
        },
      ),
    );
  });

  it("reads a last line end, CRLF, and quotes that are only letters", () => {
    expect(fromTsv("a\tb\r\nc\td\r\n")).toEqual([
      ["a", "b"],
      ["c", "d"],
    ]);
    expect(fromTsv('6" funnel\t2')).toEqual([['6" funnel', "2"]]);
    expect(fromTsv('"quoted" and more\t2')).toEqual([['"quoted" and more', "2"]]);
  });
});

describe("what is pasted", () => {
  const from = (data: Record<string, string>, html = noHtml) =>
    fromClipboard((type) => data[type] ?? "", html);

  it("is our own JSON first, which keeps what was written", () => {
    const data = Object.fromEntries(
      toClipboard([[{ raw: "= 2 * 3", text: "6" }]]).map((f) => [f.type, f.data]),
    );
    expect(data["text/plain"]).toBe("6");
    expect(from(data)).toEqual({ rows: [["= 2 * 3"]], own: true });
  });

  it("is the plain text before the HTML, whose numbers may be rounded for show", () => {
    const html = () => [["2,4k", "####"]];
    expect(from({ "text/plain": "2400\t61.25", "text/html": "<table>" }, html as never).rows).toEqual([
      ["2400", "61.25"],
    ]);
  });

  it("is the HTML when the plain text has no tab", () => {
    const html = () => [["a", "b"]];
    expect(from({ "text/plain": "a b", "text/html": "<table>" }, html as never).rows).toEqual([["a", "b"]]);
  });

  it("does not take foreign or damaged JSON for ours", () => {
    expect(fromJson('{"cells":[["1"]]}')).toBeUndefined();
    expect(fromJson('{"invacuo":1,"cells":[[1]]}')).toBeUndefined();
    expect(fromJson('{"invacuo":1,"cells":')).toBeUndefined();
    expect(from({ [OWN_TYPE]: "nonsense", "text/plain": "x" }).rows).toEqual([["x"]]);
  });
});

it("an HTML copy holds text, never markup", () => {
  expect(toHtml([['<b>&"', "2"]])).toBe(
    "<table><tbody><tr><td>&lt;b&gt;&amp;&quot;</td><td>2</td></tr></tbody></table>",
  );
});
