import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addStatement,
  applyPatches,
  type BookTree,
  formulaMark,
  formulaSpan,
  moveStatement,
  newDefine,
  newSet,
  newTable,
  parseBook,
  printFormula,
  removeStatement,
  removeTick,
  setComment,
  setFormula,
  setStepClauses,
  setStepText,
  setTick,
  setTitle,
  setTrial,
} from "../../grammar";
import { book, formula } from "./arbitraries";
import { edited, refusal, statementAt } from "./editing";
import { said } from "./notation";

const at = (tree: BookTree, line: number) => statementAt(tree, line);

describe("the formula of a statement", () => {
  const write = (text: string, typed: string, line = 1): string =>
    edited(text, (tree) => setFormula(tree, at(tree, line), typed));
  it("is written and nothing else, the comment behind it included", () => {
    expect(write("set a   =  1 L # x", "2 L")).toBe("set a   =  2 L # x");
    expect(write("set a = 1 L try 1 L to 2 L", "3 L")).toBe("set a = 3 L try 1 L to 2 L");
    expect(write("define f(a, b) = a", "a + b")).toBe("define f(a, b) = a + b");
    expect(write("table t\n| a |\ncolumn c = 1\nfoot c = sum(c)", "mean(c)", 4)).toBe(
      "table t\n| a |\ncolumn c = 1\nfoot c = mean(c)",
    );
    expect(write('check a > 1 : "x"', "a > 2")).toBe('check a > 2 : "x"');
    expect(write('chart "T" : bars a by b', "dots a by c")).toBe('chart "T" : dots a by c');
  });
  it("is written over several lines at once", () => {
    expect(write("set a = f(1,\r\n  2)\r\nset b = 1", "3")).toBe("set a = 3\r\nset b = 1");
    expect(write("set a = 1", "f(1,\n2)")).toBe("set a = f(1, 2)");
  });
  it("mends a statement that could not be read", () => {
    expect(write("set a = (1 + # x", "1 + 2")).toBe("set a = 1 + 2 # x");
    expect(write("set a =", "3")).toBe("set a = 3");
    expect(write("set a=", "3")).toBe("set a= 3");
    expect(write('chart "T" : pie a', "bars a by b")).toBe('chart "T" : bars a by b');
  });
  it("is refused where there is none, and when nothing is typed", () => {
    expect(refusal('book "x"', (tree) => setFormula(tree, at(tree, 1), "1"))).toBe("formula-none");
    expect(refusal("set a = 1", (tree) => setFormula(tree, at(tree, 1), " "))).toBe("formula-empty");
    expect(refusal("hello", (tree) => setFormula(tree, at(tree, 1), "1"))).toBe("formula-none");
  });
  it("is found where it stands", () => {
    const tree = parseBook('set a = (1 + 2) # x\nchart "T" : bars a by b');
    const source = (line: number): string => {
      const statement = at(tree, line);
      const span = formulaSpan(tree, statement)!;
      return tree.text.slice(statement.at + span.from, statement.at + span.to);
    };
    expect([source(1), source(2)]).toEqual(["(1 + 2)", "bars a by b"]);
  });
});

describe("the rest of a statement", () => {
  it("a trial is added, changed and taken away", () => {
    const write = (text: string, typed: string): string =>
      edited(text, (tree) => setTrial(tree, at(tree, 1), typed));
    expect(write("set a = 1 L # x", "1 L to 2 L")).toBe("set a = 1 L try 1 L to 2 L # x");
    expect(write("set a = 1 L try 1 L to 2 L", "1 L to 3 L")).toBe("set a = 1 L try 1 L to 3 L");
    expect(write("set a = 1 L try 1 L to 2 L", "")).toBe("set a = 1 L");
    expect(refusal("check a", (tree) => setTrial(tree, at(tree, 1), "1"))).toBe("trial-none");
  });
  it("a title is changed, with its signs escaped", () => {
    const write = (text: string, typed: string): string =>
      edited(text, (tree) => setTitle(tree, at(tree, 1), typed));
    expect(write('book  "Old" # x', 'New "gin" {1}')).toBe('book  "New \\"gin\\" \\{1\\}" # x');
    expect(write('chart "Old" : bars a by b', "New")).toBe('chart "New" : bars a by b');
    expect(write('table t "Old"\n| a |', "New")).toBe('table t "New"\n| a |');
    expect(write("table t\n| a |", "New")).toBe('table t "New"\n| a |');
    expect(write('table t "Old"\n| a |', "")).toBe("table t\n| a |");
    expect(write('check a : "Old"', "New")).toBe('check a : "New"');
    expect(write("check a", "New")).toBe('check a : "New"');
    expect(write('check a : "Old"', "")).toBe("check a");
    expect(write('check a is "x"', "New")).toBe('check a is "x" : "New"');
    expect(write("seen a @00000000", "ok")).toBe('seen a @00000000 "ok"');
    expect(write('about "Old"', "")).toBe('about ""');
    expect(refusal("set a = 1", (tree) => setTitle(tree, at(tree, 1), "x"))).toBe("title-none");
  });
  it("a step's sentence and what stands behind it are changed", () => {
    const text = 'step "Stir {a}." wait 3 min # x';
    expect(
      edited(text, (tree) => setStepText(tree, at(tree, 1), 'Add {b in mL} of "x"'.replaceAll('"', '\\"'))),
    ).toBe('step "Add {b in mL} of \\"x\\"" wait 3 min # x');
    expect(edited(text, (tree) => setStepClauses(tree, at(tree, 1), "ask a in mL"))).toBe(
      'step "Stir {a}." ask a in mL # x',
    );
    expect(edited(text, (tree) => setStepClauses(tree, at(tree, 1), ""))).toBe('step "Stir {a}." # x');
    expect(refusal(text, (tree) => setStepText(tree, at(tree, 1), 'a "b" c'))).toBe("step-text");
    expect(refusal(text, (tree) => setStepText(tree, at(tree, 1), "a {b"))).toBe("step-text");
  });
  it("a comment is added, changed and taken away", () => {
    const write = (text: string, typed: string, line = 1): string =>
      edited(text, (tree) => setComment(tree, at(tree, line), typed));
    expect(write("set a = 1", "x")).toBe("set a = 1  # x");
    expect(write("set a = 1   # old\nset b = 2", "new")).toBe("set a = 1   # new\nset b = 2");
    expect(write("set a = 1   # old\r\nset b = 2", "")).toBe("set a = 1\r\nset b = 2");
    expect(write("table t\n| a |\n| x |", "y", 3)).toBe("table t\n| a |\n| x |  # y");
    expect(refusal("table t\n| a |\n| x |", (tree) => setComment(tree, at(tree, 3), "a | b"))).toBe(
      "comment-bar",
    );
  });
});

describe("new statements", () => {
  const BOOK = "set a = 1\n\n# of t\ntable t\n| i |\n| x |\ncolumn c = 1\nset b = 2\n";
  it("go before another with its comments, behind it, behind a whole table, and to the end", () => {
    const add = (line: number, where: "before" | "behind"): string =>
      edited(BOOK, (tree) =>
        addStatement(
          tree,
          where === "before" ? { before: at(tree, line) } : { behind: at(tree, line) },
          "set n = 3",
        ),
      );
    const last = (text: string): string => edited(text, (tree) => addStatement(tree, "end", "set n = 3"));
    expect(add(4, "before")).toBe(BOOK.replace("# of t", "set n = 3\n# of t"));
    expect(add(1, "behind")).toBe(BOOK.replace("set a = 1\n", "set a = 1\nset n = 3\n"));
    expect(add(4, "behind")).toBe(BOOK.replace("set b", "set n = 3\nset b"));
    expect(add(6, "behind")).toBe(BOOK.replace("set b", "set n = 3\nset b"));
    expect(last(BOOK)).toBe(`${BOOK}set n = 3\n`);
    expect(last("set a = 1")).toBe("set a = 1\nset n = 3");
    expect(last("")).toBe("set n = 3\n");
    expect(last("set a = 1\r\n")).toBe("set a = 1\r\nset n = 3\r\n");
  });
  it("stand before the ticks that end a book", () => {
    const text = "set a = 1\n\nseen a @00000000\n";
    expect(edited(text, (tree) => addStatement(tree, "end", "set b = 2"))).toBe(
      "set a = 1\n\nset b = 2\n\nseen a @00000000\n",
    );
  });
  it("never stand between the rows of a table", () => {
    for (const line of [5, 6])
      expect(refusal(BOOK, (tree) => addStatement(tree, { before: at(tree, line) }, "set n = 3"))).toBe(
        "move-between",
      );
  });
  it("are written with the names they may have", () => {
    const tree = parseBook(`${BOOK}define f(x) = x\nset broken = (`);
    expect(newSet(tree, "bay leaf", "1")).toEqual({ line: "set `bay leaf` = 1" });
    expect(newSet(tree, "to", "1 +\n2")).toEqual({ line: "set `to` = 1 + 2" });
    expect(newSet(tree, "t", "1")).toMatchObject({ refused: { code: "name-taken" } });
    expect(newSet(tree, "broken", "1")).toMatchObject({ refused: { code: "name-taken" } });
    expect(newSet(tree, "f", "1")).toEqual({ line: "set f = 1" });
    expect(newSet(tree, "foot", "1")).toMatchObject({ refused: { code: "name-fixed" } });
    expect(newSet(tree, "a`b", "1")).toMatchObject({ refused: { code: "name-empty" } });
    expect(newDefine(tree, "g", ["a", "b c"], "a")).toEqual({ line: "define g(a, `b c`) = a" });
    expect(newDefine(tree, "f", ["a"], "a")).toMatchObject({ refused: { code: "name-taken" } });
    expect(newDefine(tree, "g", ["a", "a"], "a")).toMatchObject({ refused: { code: "parameter-twice" } });
    expect(newDefine(tree, "g", [], "a")).toMatchObject({ refused: { code: "parameter-none" } });
    expect(newTable(tree, "u", "My table", ["item", "volume (mL)"], [["a|b", "1"]])).toEqual({
      lines: 'table u "My table"\n| item | volume (mL) |\n| a\\|b | 1           |',
    });
    expect(newTable(tree, "a", "", ["i"], [])).toMatchObject({ refused: { code: "name-taken" } });
  });
});

describe("taking out and moving", () => {
  const BOOK = 'book "x"\n\n# of a\nset a = 1  # one\n\ntable t\n| i |\n| x |\ncolumn c = 1\n\nset b = 2\n';
  it("a statement goes with its comments, and no double gap is left", () => {
    expect(edited(BOOK, (tree) => removeStatement(tree, at(tree, 4)))).toBe(
      'book "x"\n\ntable t\n| i |\n| x |\ncolumn c = 1\n\nset b = 2\n',
    );
    expect(edited(BOOK, (tree) => removeStatement(tree, at(tree, 6)))).toBe(
      'book "x"\n\n# of a\nset a = 1  # one\n\nset b = 2\n',
    );
    expect(edited(BOOK, (tree) => removeStatement(tree, at(tree, 9)))).toBe(
      BOOK.replace("column c = 1\n", ""),
    );
    expect(edited("set a = 1", (tree) => removeStatement(tree, at(tree, 1)))).toBe("");
    expect(edited("set a = 1\r\nset b = 2", (tree) => removeStatement(tree, at(tree, 2)))).toBe("set a = 1");
  });
  it("a statement is moved with its comments", () => {
    const tree = parseBook(BOOK);
    expect(edited(BOOK, () => moveStatement(tree, at(tree, 4), { behind: at(tree, 11) }))).toBe(
      'book "x"\n\n\ntable t\n| i |\n| x |\ncolumn c = 1\n\nset b = 2\n# of a\nset a = 1  # one\n',
    );
    expect(edited(BOOK, () => moveStatement(tree, at(tree, 11), { before: at(tree, 4) }))).toBe(
      'book "x"\n\nset b = 2\n# of a\nset a = 1  # one\n\ntable t\n| i |\n| x |\ncolumn c = 1\n\n',
    );
    expect(
      edited("set a = 1\nset b = 2", (one) => moveStatement(one, at(one, 2), { before: at(one, 1) })),
    ).toBe("set b = 2\nset a = 1");
  });
  it("a table is moved as a whole, and never into another", () => {
    const tree = parseBook(BOOK);
    expect(
      edited(BOOK, () => moveStatement(tree, at(tree, 6), { before: at(tree, 4) }))
        .split("\n")
        .slice(2, 8),
    ).toEqual(["table t", "| i |", "| x |", "column c = 1", "# of a", "set a = 1  # one"]);
    const two = "table t\n| i |\ncolumn c = 1\ntable u\n| j |\ncolumn d = 1\n";
    const trees = parseBook(two);
    expect(refusal(two, () => moveStatement(trees, at(trees, 4), { before: at(trees, 3) }))).toBe(
      "move-between",
    );
    expect(refusal(two, () => moveStatement(trees, at(trees, 3), { behind: at(trees, 6) }))).toBe(
      "move-part",
    );
    expect(edited(two, () => moveStatement(trees, at(trees, 4), { before: at(trees, 1) }))).toBe(
      "table u\n| j |\ncolumn d = 1\ntable t\n| i |\ncolumn c = 1\n",
    );
    expect(
      refusal("table t\n| i |\nset a = 1\ncolumn c = 1\nset b = 2", (one) =>
        moveStatement(one, at(one, 1), { behind: at(one, 5) }),
      ),
    ).toBe("move-apart");
  });
});

describe("ticks", () => {
  it("have the mark of the tokens, whatever the spacing", () => {
    expect(formulaMark("pure_volume ( volume , strength )")).toBe("@2ffcfed6");
    expect(formulaMark("pure_volume(volume,strength)  # remark")).toBe("@2ffcfed6");
    expect(formulaMark("pure_volume(volume,\n  strength)")).toBe("@2ffcfed6");
    expect(formulaMark("pure_volume(volume, strengths)")).not.toBe("@2ffcfed6");
    expect(formulaMark('"a {b+c}"')).toBe(formulaMark('"a { b  + c }"'));
    expect(formulaMark('"a {b+c}"')).not.toBe(formulaMark('"a  {b+c}"'));
    expect(formulaMark("cafe\u0301")).toBe(formulaMark("caf\u00e9"));
    expect(formulaMark("")).toBe("@811c9dc5");
  });
  it("are put at the end, renewed where they stand, and taken away", () => {
    const text = "set a = 1\n";
    const ticked = edited(text, (tree) => setTick(tree, "a", "@00000001", "ok"));
    expect(ticked).toBe('set a = 1\n\nseen a @00000001 "ok"\n');
    expect(edited(ticked, (tree) => setTick(tree, "a", "@00000002"))).toBe("set a = 1\n\nseen a @00000002\n");
    expect(edited(ticked, (tree) => setTick(tree, "t.`b c`", "@00000003"))).toBe(
      `${ticked}seen t.\`b c\` @00000003\n`,
    );
    expect(edited(ticked, (tree) => removeTick(tree, "`a`"))).toBe("set a = 1\n\n");
    expect(refusal(text, (tree) => removeTick(tree, "a"))).toBe("tick-missing");
    expect(
      edited("set a = 1\nseen a @00000001\nseen a @00000002\n", (tree) => setTick(tree, "a", "@00000003")),
    ).toBe("set a = 1\nseen a @00000003\n");
  });
});

describe("whatever the book", () => {
  it("a formula is what was written, and nothing else has changed", () => {
    fc.assert(
      fc.property(book, fc.nat(), formula, (text, pick, tree) => {
        const before = parseBook(text);
        const settable = before.statements.filter(({ node }) =>
          ["set", "define", "column", "foot", "check"].includes(node.type),
        );
        fc.pre(settable.length > 0);
        const statement = settable[pick % settable.length]!;
        const typed = printFormula(tree);
        const now = parseBook(applyPatches(text, setFormula(before, statement, typed).patches!));
        const index = before.statements.indexOf(statement);
        const { node } = now.statements[index]!;
        expect("formula" in node && printFormula(node.formula)).toBe(typed);
        const rest = (one: BookTree): unknown => (said(one) as unknown[]).filter((_, i) => i !== index);
        expect(rest(now)).toEqual(rest(before));
      }),
      { numRuns: 150, seed: 10 },
    );
  });
  it("a statement is added, moved and taken out, and nothing else has changed", () => {
    fc.assert(
      fc.property(book, fc.nat(), fc.nat(), (text, a, b) => {
        const before = parseBook(text);
        const loose = before.statements.filter((statement) => before.tableOf.get(statement) === undefined);
        fc.pre(loose.length > 0);
        const statement = loose[a % loose.length]!;
        const goal = loose[b % loose.length]!;
        const others = (tree: BookTree): readonly string[] =>
          tree.statements.map((one) => tree.text.slice(one.at, one.at + one.length));
        const source = text.slice(statement.at, statement.at + statement.length);
        // A statement that cannot be read may hold a bracket that what comes to stand behind it would close.
        fc.pre(
          [statement, goal].every(({ node }) => node.type !== "unread") &&
            before.statements.every(({ node }) => node.type !== "unread"),
        );
        const at = before.statements.indexOf(statement);
        const without = others(before).filter((_, i) => i !== at);
        expect(others(parseBook(applyPatches(text, removeStatement(before, statement).patches!)))).toEqual(
          without,
        );
        const added = parseBook(
          applyPatches(text, addStatement(before, { behind: goal }, "set fresh = 1").patches!),
        );
        const behind = before.statements.indexOf(goal) + 1;
        expect(others(added)).toEqual([
          ...others(before).slice(0, behind),
          "set fresh = 1",
          ...others(before).slice(behind),
        ]);
        const moved = moveStatement(before, statement, { before: goal });
        const expected = [...without];
        if (statement !== goal)
          expected.splice(
            before.statements.indexOf(goal) - (at < before.statements.indexOf(goal) ? 1 : 0),
            0,
            source,
          );
        else expected.splice(at, 0, source);
        expect(others(parseBook(applyPatches(text, moved.patches!)))).toEqual(expected);
      }),
      { numRuns: 150, seed: 11 },
    );
  });
});
