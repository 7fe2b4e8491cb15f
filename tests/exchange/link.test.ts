import fc from "fast-check";
import { deflateSync } from "fflate";
import { describe, expect, it } from "vitest";
import { COMFORTABLE_LINK, crc32, decodeLink, encodeLink } from "../../src/exchange/link";
import { Trouble } from "../../src/quantity/trouble";

const refused = (fragment: string): Trouble => {
  try {
    decodeLink(fragment);
  } catch (error) {
    if (error instanceof Trouble) return error;
    throw error;
  }
  throw new Error("the link was taken: " + fragment.slice(0, 40));
};

const BOOK = `book "Two stocks"\nset a = 2.4 L\nset b = a * 2   # twice\n`.repeat(20);

describe("a link", () => {
  it("gives back any text unchanged", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 400 }), (text) => {
        expect(decodeLink(encodeLink(text).fragment)).toBe(text);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it("is the same for the same text and holds only characters that an address may hold", () => {
    const one = encodeLink(BOOK).fragment;
    expect(encodeLink(BOOK).fragment).toBe(one);
    expect(one).toMatch(/^1\.\d+\.[0-9a-f]{8}\.[A-Za-z0-9_-]+$/);
    expect(decodeLink("#" + one)).toBe(BOOK);
  });

  it("advises a file when it grows long", () => {
    let text = "";
    for (let i = 0; text.length < 9000; i++) text += `set v${i} = ${(i * 7919) % 10007} mL # ${i * i}\n`;
    const link = encodeLink(text);
    expect(link.length).toBeGreaterThan(COMFORTABLE_LINK);
    expect(link.advice).toContain(String(link.length));
    expect(encodeLink(BOOK).advice).toBeUndefined();
  });

  it("tells that it was cut off, wherever it was cut", () => {
    const whole = encodeLink(BOOK).fragment;
    for (let end = 2; end < whole.length; end++) {
      const trouble = refused(whole.slice(0, end));
      expect(trouble.code, whole.slice(0, end)).toBe("link-cut-off");
    }
    expect(refused(whole.slice(0, -9)).says).toMatch(/\d+ of \d+ characters arrived/);
  });

  it("tells that words were pasted behind it", () => {
    expect(refused(encodeLink(BOOK).fragment + "abc").code).toBe("link-extended");
  });

  it("never opens a damaged link", () => {
    const whole = encodeLink(BOOK).fragment;
    const start = whole.lastIndexOf(".") + 1;
    let refusals = 0;
    let harmless = 0;
    for (let i = start; i < whole.length; i++) {
      for (const other of ["A", "_", "x", "!"]) {
        if (whole[i] === other) continue;
        const changed = whole.slice(0, i) + other + whole.slice(i + 1);
        let opened: string | undefined;
        try {
          opened = decodeLink(changed);
        } catch (error) {
          expect(error).toBeInstanceOf(Trouble);
          expect((error as Trouble).code).toBe("link-damaged");
          refusals++;
        }
        // A few bits stand for nothing (the fill behind the last block); then the very same text comes out.
        if (opened !== undefined) {
          expect(opened).toBe(BOOK);
          harmless++;
        }
      }
    }
    expect(refusals).toBeGreaterThan(200);
    expect(harmless).toBeLessThan(5);
  });

  it("names a newer version, and what is no link at all", () => {
    expect(refused("2.5.00000000.AAAAA").code).toBe("link-version");
    expect(refused("").code).toBe("link-unknown");
    expect(refused("#section-3").code).toBe("link-unknown");
  });

  it("stops a small link that unfolds to a huge text", () => {
    const bytes = deflateSync(new Uint8Array(64 * 1024 * 1024), { level: 9 });
    const data = Buffer.from(bytes).toString("base64url");
    const trouble = refused(`1.${data.length}.00000000.${data}`);
    expect(trouble.code).toBe("link-too-long");
  });

  it("uses the CRC of zip files", () => {
    expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
  });
});
