import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { generateGrammarDocuments } from "../../grammar/documents";
import { grammarEbnf } from "../../grammar/ebnf";
import { Expectations } from "../../grammar/expectations";
import { grammarRules, type Shape, tokenClasses } from "../../grammar/grammar-shape";
import { createLexer } from "../../grammar/lexer";
import { LineParser } from "../../grammar/parser";
import { railroadPage } from "../../grammar/railroad";

describe("the grammar", () => {
  it("passes chevrotain's own checks: no unreachable token, no ambiguity, no rule without an end", () => {
    expect(createLexer(true).lexerDefinitionErrors).toEqual([]);
    expect(() => new LineParser(new Expectations(), true)).not.toThrow();
  });
  it("needs one token of lookahead and no recovery", () => {
    const parser = new LineParser(new Expectations(), true) as unknown as {
      maxLookahead: number;
      recoveryEnabled: boolean;
    };
    expect([parser.maxLookahead, parser.recoveryEnabled]).toEqual([1, false]);
  });
});

describe("the generated documents", () => {
  it("are those that are committed", () => {
    for (const [path, content] of generateGrammarDocuments())
      expect(readFileSync(path, "utf8"), path).toBe(content);
  });
  it("name every rule and every class of tokens that they use, and use every rule that they name", () => {
    const rules = grammarRules();
    const named = new Set(rules.map(({ name }) => name));
    const classes = new Set(tokenClasses.map(({ name }) => name));
    const used = new Set(["book"]);
    const visit = (shape: Shape): void => {
      if (shape.type === "rule") {
        expect(named.has(shape.name), shape.name).toBe(true);
        used.add(shape.name);
      } else if (shape.type === "token") expect(classes.has(shape.name), shape.name).toBe(true);
      else if (shape.type === "sequence" || shape.type === "choice") shape.of.forEach(visit);
      else if (shape.type === "option" || shape.type === "repeat") visit(shape.of);
    };
    for (const { shape } of rules) visit(shape);
    expect([...named].filter((name) => !used.has(name))).toEqual([]);
  });
  it("say what the specification says", () => {
    const ebnf = grammarEbnf().replace(/\s+/g, " ");
    for (const rule of [
      'setLine = "set" NAME "=" formula [ trial ] .',
      'trial = "try" sum [ "to" sum [ "step" sum ] ] .',
      'defineLine = "define" NAME "(" NAME { "," NAME } ")" "=" formula .',
      'ask = "ask" path [ "in" UNIT ] [ "expect" sum ] .',
      'formula = choice [ "where" choice ] .',
      'range = either [ "to" either [ "step" either ] ] .',
      'power = path { "^" [ "-" ] path } .',
      'argument = [ LABEL ":" ] formula .',
      'quantity = [ "-" | "+" ] reading [ "±" reading ] .',
    ])
      expect(ebnf).toContain(rule);
  });
  it("show nothing from elsewhere: no script, no link outside the page", () => {
    const page = railroadPage();
    expect(page).not.toMatch(/<script|https?:|src=|@import/);
    for (const [, target] of page.matchAll(/href="#([^"]+)"/g)) expect(page).toContain(`id="${target}"`);
  });
});
