// biome-ignore-all lint/correctness/noComponentHookFactories: these are rules of a grammar, not components
import { EmbeddedActionsParser, type IParserErrorMessageProvider, type IToken } from "chevrotain";
import { endOf, nameOf } from "./lexer";
import {
  arithmetic,
  compare,
  dateNode,
  logic,
  numberNode,
  orderOf,
  powers,
  type Raised,
  signed,
  spanAt,
  textNode,
  unitNode,
  withSigns,
} from "./nodes";
import * as t from "./tokens";
import type { Argument, Cell, Formula, NumberNode, Span, StatementNode } from "./tree";
import { normal } from "./words";

/**
 * The grammar of the language, in the words and the order of its specification; `language.ebnf` and
 * `railroad.html` are generated from it. Rules build the tree as they go. Recovery is switched off: a statement is
 * short, its first fault is told, and the next statement is read afresh.
 *
 * Chains of `^`, `else if`, `not` and signs are loops here, so that only brackets, braces and what stands between
 * the words of an `if` nest; limits.ts counts those before the parser starts.
 */

type ChartNode = Extract<StatementNode, { type: "chart" }>;
type AskPart = Extract<StatementNode, { type: "step" }>["asks"][number];
type Trial = NonNullable<Extract<StatementNode, { type: "set" }>["trial"]>;
type CellContent = Cell["content"];
type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** What stands in for a node while chevrotain walks through the rules to learn the grammar. */
const HOLLOW: NumberNode = { type: "number", digits: "0", span: { from: 0, to: 0 } };

export class LineParser extends EmbeddedActionsParser {
  /** True while chevrotain walks through the rules; nothing is built then. */
  private readonly learning: boolean = true;
  /** Text tokens that stand as plain titles or remarks in the statement read last. */
  readonly plainTexts: IToken[] = [];

  constructor(errorMessageProvider: IParserErrorMessageProvider, validate: boolean) {
    super([...t.VOCABULARY], {
      maxLookahead: 1,
      recoveryEnabled: false,
      skipValidations: !validate,
      errorMessageProvider,
    });
    this.performSelfAnalysis();
    this.learning = false;
  }

  /** What an option gave; while the grammar is learnt chevrotain gives a stand-in. */
  private given<T>(value: T | undefined): T | undefined {
    return this.learning ? undefined : value;
  }

  // ---- statements

  readonly line = this.RULE(
    "line",
    (): StatementNode =>
      this.OR([
        { ALT: () => this.SUBRULE(this.languageLine) },
        { ALT: () => this.SUBRULE(this.titleLine) },
        { ALT: () => this.SUBRULE(this.setLine) },
        { ALT: () => this.SUBRULE(this.defineLine) },
        { ALT: () => this.SUBRULE(this.tableLine) },
        { ALT: () => this.SUBRULE(this.columnLine) },
        { ALT: () => this.SUBRULE(this.checkLine) },
        { ALT: () => this.SUBRULE(this.chartLine) },
        { ALT: () => this.SUBRULE(this.stepLine) },
        { ALT: () => this.SUBRULE(this.seenLine) },
      ]),
  );

  private readonly languageLine = this.RULE("languageLine", (): StatementNode => {
    this.CONSUME(t.LanguageHead);
    const number = this.CONSUME(t.NumberWord);
    return { type: "language", version: Number(number.image) };
  });

  private readonly titleLine = this.RULE("titleLine", (): StatementNode => {
    const head = this.OR([
      { ALT: () => this.CONSUME(t.BookHead) },
      { ALT: () => this.CONSUME(t.AboutHead) },
      { ALT: () => this.CONSUME(t.PartHead) },
    ]);
    const text = this.CONSUME(t.Text);
    return {
      type: head.image as "book" | "about" | "part",
      text: this.plainText(text),
      textSpan: spanAt(text),
    };
  });

  private readonly setLine = this.RULE("setLine", (): StatementNode => {
    this.CONSUME(t.SetHead);
    const name = this.CONSUME(t.Name);
    this.CONSUME(t.Equals);
    const formula = this.SUBRULE(this.formula);
    const trial = this.OPTION(() => this.SUBRULE(this.trial));
    const node = { type: "set", name: nameOf(name), nameSpan: spanAt(name), formula } as const;
    return trial === undefined ? node : { ...node, trial };
  });

  private readonly trial = this.RULE("trial", (): Trial => {
    this.CONSUME(t.Try);
    const trial: Mutable<Trial> = { from: this.SUBRULE(this.sum) };
    this.OPTION(() => {
      this.CONSUME(t.To);
      trial.to = this.SUBRULE2(this.sum);
      this.OPTION2(() => {
        this.CONSUME(t.Step);
        trial.step = this.SUBRULE3(this.sum);
      });
    });
    return trial;
  });

  private readonly defineLine = this.RULE("defineLine", (): StatementNode => {
    this.CONSUME(t.DefineHead);
    const name = this.CONSUME(t.Name);
    this.CONSUME(t.OpenBracket);
    const parameters: { name: string; span: Span }[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: t.Comma,
      DEF: () => {
        const parameter = this.CONSUME2(t.Name);
        parameters.push({ name: nameOf(parameter), span: spanAt(parameter) });
      },
    });
    this.CONSUME(t.CloseBracket);
    this.CONSUME(t.Equals);
    const formula = this.SUBRULE(this.formula);
    return { type: "define", name: nameOf(name), nameSpan: spanAt(name), parameters, formula };
  });

  private readonly tableLine = this.RULE("tableLine", (): StatementNode => {
    this.CONSUME(t.TableHead);
    const name = this.CONSUME(t.Name);
    const node = { type: "table", name: nameOf(name), nameSpan: spanAt(name) } as const;
    const title = this.given(this.OPTION(() => this.CONSUME(t.Text)));
    return title === undefined ? node : { ...node, title: this.plainText(title), titleSpan: spanAt(title) };
  });

  private readonly columnLine = this.RULE("columnLine", (): StatementNode => {
    const head = this.OR([
      { ALT: () => this.CONSUME(t.ColumnHead) },
      { ALT: () => this.CONSUME(t.FootHead) },
    ]);
    const name = this.CONSUME(t.Name);
    this.CONSUME(t.Equals);
    const formula = this.SUBRULE(this.formula);
    return { type: head.image as "column" | "foot", name: nameOf(name), nameSpan: spanAt(name), formula };
  });

  private readonly checkLine = this.RULE("checkLine", (): StatementNode => {
    this.CONSUME(t.CheckHead);
    const formula = this.SUBRULE(this.formula);
    const text = this.OPTION(() => {
      this.CONSUME(t.Colon);
      return this.CONSUME(t.Text);
    });
    return text === undefined
      ? { type: "check", formula }
      : { type: "check", formula, text: this.plainText(text) };
  });

  private readonly chartLine = this.RULE("chartLine", (): StatementNode => {
    this.CONSUME(t.ChartHead);
    const title = this.CONSUME(t.Text);
    this.CONSUME(t.Colon);
    return this.OR([
      { ALT: () => this.SUBRULE(this.drawing, { ARGS: [title] }) },
      { ALT: () => this.SUBRULE(this.curve, { ARGS: [title] }) },
    ]);
  });

  private readonly drawing = this.RULE("drawing", (title: IToken): ChartNode => {
    const style = this.OR([
      { ALT: () => this.CONSUME(t.Bars) },
      { ALT: () => this.CONSUME(t.Line) },
      { ALT: () => this.CONSUME(t.Dots) },
    ]);
    const what: Formula[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => what.push(this.SUBRULE(this.formula)) });
    this.CONSUME(t.By);
    const by = this.SUBRULE2(this.formula);
    return {
      type: "chart",
      title: this.plainText(title),
      style: style.image as "bars" | "line" | "dots",
      what,
      by,
    };
  });

  private readonly curve = this.RULE("curve", (title: IToken): ChartNode => {
    this.CONSUME(t.Curve);
    const what: Formula[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => what.push(this.SUBRULE(this.formula)) });
    this.CONSUME(t.For);
    const variable = nameOf(this.CONSUME(t.Name));
    this.CONSUME(t.From);
    const from = this.SUBRULE(this.sum);
    this.CONSUME(t.To);
    const to = this.SUBRULE2(this.sum);
    const mark = this.OPTION(() => {
      this.CONSUME(t.MarkAt);
      return this.SUBRULE2(this.formula);
    });
    const node = {
      type: "chart",
      title: this.plainText(title),
      style: "curve",
      what,
      variable,
      from,
      to,
    } as const;
    return mark === undefined ? node : { ...node, mark };
  });

  private readonly stepLine = this.RULE("stepLine", (): StatementNode => {
    this.CONSUME(t.StepHead);
    const text = this.CONSUME(t.Text);
    const asks: AskPart[] = [];
    let wait: Formula | undefined;
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(t.Wait);
            wait = this.SUBRULE(this.sum);
          },
        },
        { ALT: () => asks.push(this.SUBRULE(this.ask)) },
      ]),
    );
    const node = { type: "step", text: textNode(text), asks } as const;
    return wait === undefined ? node : { ...node, wait };
  });

  private readonly ask = this.RULE("ask", (): AskPart => {
    const head = this.CONSUME(t.Ask);
    const ask: Mutable<AskPart> = { path: this.SUBRULE(this.path), span: spanAt(head) };
    this.OPTION(() => {
      this.CONSUME(t.In);
      ask.unit = unitNode(this.CONSUME(t.Unit));
    });
    this.OPTION2(() => {
      this.CONSUME(t.Expect);
      ask.expect = this.SUBRULE(this.sum);
    });
    const last = ask.expect ?? ask.unit ?? ask.path;
    if (!this.learning) ask.span = { from: head.startOffset, to: last.span.to };
    return ask;
  });

  private readonly seenLine = this.RULE("seenLine", (): StatementNode => {
    this.CONSUME(t.SeenHead);
    const path = this.SUBRULE(this.path);
    const mark = this.CONSUME(t.Mark);
    const text = this.given(this.OPTION(() => this.CONSUME(t.Text)));
    const node = { type: "seen", path, mark: mark.image.toLowerCase() } as const;
    return text === undefined ? node : { ...node, text: this.plainText(text) };
  });

  /** A title or remark holds no formulas; one with braces is kept as it was typed. */
  private plainText(token: IToken): string {
    if (this.learning) return "";
    this.plainTexts.push(token);
    const { pieces } = textNode(token);
    return pieces.every((piece) => typeof piece === "string")
      ? pieces.join("")
      : normal(token.image.slice(1, -1));
  }

  // ---- cells

  readonly cell = this.RULE(
    "cell",
    (): CellContent =>
      this.OR([
        { ALT: () => this.SUBRULE(this.quantity) },
        { ALT: () => ({ type: "date", iso: this.CONSUME(t.DateWord).image }) },
        {
          ALT: () => {
            this.CONSUME(t.Equals);
            return { type: "formula", formula: this.SUBRULE(this.formula) };
          },
        },
      ]),
  );

  private readonly quantity = this.RULE("quantity", (): CellContent => {
    let sign: IToken | undefined;
    this.OPTION(() => {
      sign = this.OR([{ ALT: () => this.CONSUME(t.Minus) }, { ALT: () => this.CONSUME(t.Plus) }]);
    });
    const plain = this.SUBRULE(this.reading);
    const of =
      this.learning || sign === undefined
        ? plain
        : signed(plain, sign.startOffset, sign.tokenType === t.Minus);
    const by = this.OPTION2(() => {
      this.CONSUME(t.Spread);
      return this.SUBRULE2(this.reading);
    });
    return by === undefined ? { type: "quantity", of } : { type: "quantity", of, by };
  });

  private readonly reading = this.RULE("reading", (): NumberNode => {
    const number = this.CONSUME(t.NumberWord);
    const unit = this.given(this.OPTION(() => this.CONSUME(t.Unit)));
    return numberNode(number, unit);
  });

  // ---- formulas

  readonly formula = this.RULE("formula", (): Formula => {
    const of = this.SUBRULE(this.choice);
    const condition = this.OPTION(() => {
      this.CONSUME(t.Where);
      return this.SUBRULE2(this.choice);
    });
    if (condition === undefined || this.learning) return of;
    return { type: "where", of, condition, span: { from: of.span.from, to: condition.span.to } };
  });

  private readonly choice = this.RULE("choice", (): Formula => {
    const branches: { at: number; condition: Formula; yes: Formula }[] = [];
    this.MANY(() => {
      const head = this.CONSUME(t.If);
      const condition = this.SUBRULE(this.choice);
      this.CONSUME(t.Then);
      const yes = this.SUBRULE2(this.choice);
      this.CONSUME(t.Else);
      branches.push({ at: head.startOffset, condition, yes });
    });
    let node = this.OR([{ ALT: () => this.SUBRULE(this.find) }, { ALT: () => this.SUBRULE(this.range) }]);
    if (this.learning) return HOLLOW;
    for (let i = branches.length - 1; i >= 0; i--) {
      const { at, condition, yes } = branches[i]!;
      node = { type: "choice", condition, yes, no: node, span: { from: at, to: node.span.to } };
    }
    return node;
  });

  private readonly find = this.RULE("find", (): Formula => {
    const head = this.CONSUME(t.Find);
    const name = this.CONSUME(t.Name);
    this.CONSUME(t.From);
    const from = this.SUBRULE(this.sum);
    this.CONSUME(t.To);
    const to = this.SUBRULE2(this.sum);
    this.CONSUME(t.So);
    this.CONSUME(t.That);
    const goal = this.SUBRULE(this.comparison);
    if (this.learning) return HOLLOW;
    const span = { from: head.startOffset, to: goal.span.to };
    return { type: "find", name: nameOf(name), nameSpan: spanAt(name), from, to, goal, span };
  });

  private readonly range = this.RULE("range", (): Formula => {
    const from = this.SUBRULE(this.either);
    let to: Formula | undefined;
    let step: Formula | undefined;
    this.OPTION(() => {
      this.CONSUME(t.To);
      to = this.SUBRULE2(this.either);
      this.OPTION2(() => {
        this.CONSUME(t.Step);
        step = this.SUBRULE3(this.either);
      });
    });
    if (to === undefined || this.learning) return from;
    const span = { from: from.span.from, to: (step ?? to).span.to };
    return step === undefined ? { type: "range", from, to, span } : { type: "range", from, to, step, span };
  });

  private readonly either = this.RULE("either", (): Formula => {
    let left = this.SUBRULE(this.both);
    this.MANY(() => {
      const operator = this.CONSUME(t.Or);
      const right = this.SUBRULE2(this.both);
      if (!this.learning) left = logic("or", left, operator, right);
    });
    return left;
  });

  private readonly both = this.RULE("both", (): Formula => {
    let left = this.SUBRULE(this.negation);
    this.MANY(() => {
      const operator = this.CONSUME(t.And);
      const right = this.SUBRULE2(this.negation);
      if (!this.learning) left = logic("and", left, operator, right);
    });
    return left;
  });

  private readonly negation = this.RULE("negation", (): Formula => {
    let nots: number[] | undefined;
    this.MANY(() => {
      nots ??= [];
      nots.push(this.CONSUME(t.Not).startOffset);
    });
    let node = this.SUBRULE(this.comparison);
    if (nots === undefined || this.learning) return node;
    for (const at of nots.reverse()) node = { type: "not", of: node, span: { from: at, to: node.span.to } };
    return node;
  });

  private readonly comparison = this.RULE("comparison", (): Formula => {
    const left = this.SUBRULE(this.shown);
    return this.OPTION(() => this.SUBRULE(this.compared, { ARGS: [left] })) ?? left;
  });

  /** What may stand behind the left side of a comparison. */
  private readonly compared = this.RULE(
    "compared",
    (left: Formula): Formula =>
      this.OR([
        {
          ALT: () => {
            const operator = this.CONSUME(t.Order);
            const right = this.SUBRULE(this.shown);
            return this.learning ? HOLLOW : compare(orderOf(operator), left, spanAt(operator), right);
          },
        },
        {
          ALT: () => {
            const is = this.CONSUME(t.Is);
            const not = this.OPTION(() => this.CONSUME(t.Not));
            const right = this.SUBRULE2(this.shown);
            if (this.learning) return HOLLOW;
            const operatorSpan = { from: is.startOffset, to: endOf(not ?? is) };
            return compare(not === undefined ? "is" : "is not", left, operatorSpan, right);
          },
        },
        {
          ALT: () => {
            const operator = this.CONSUME(t.Unequal);
            const right = this.SUBRULE3(this.shown);
            return this.learning ? HOLLOW : compare("is not", left, spanAt(operator), right);
          },
        },
        {
          ALT: () => {
            this.CONSUME(t.Within);
            const low = this.SUBRULE4(this.shown);
            this.CONSUME(t.To);
            const high = this.SUBRULE5(this.shown);
            if (this.learning) return HOLLOW;
            return { type: "within", of: left, low, high, span: { from: left.span.from, to: high.span.to } };
          },
        },
      ]),
  );

  private readonly shown = this.RULE("shown", (): Formula => {
    const of = this.SUBRULE(this.sum);
    const unit = this.OPTION(() => {
      this.CONSUME(t.In);
      return this.CONSUME(t.Unit);
    });
    if (unit === undefined || this.learning) return of;
    return { type: "shown", of, unit: unitNode(unit), span: { from: of.span.from, to: endOf(unit) } };
  });

  private readonly sum = this.RULE("sum", (): Formula => {
    let left = this.SUBRULE(this.product);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.Plus) }, { ALT: () => this.CONSUME(t.Minus) }]);
      const right = this.SUBRULE2(this.product);
      if (!this.learning) left = arithmetic(operator.tokenType === t.Plus ? "+" : "-", left, operator, right);
    });
    return left;
  });

  private readonly product = this.RULE("product", (): Formula => {
    let left = this.SUBRULE(this.signed);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.Times) }, { ALT: () => this.CONSUME(t.Over) }]);
      const right = this.SUBRULE2(this.signed);
      if (!this.learning)
        left = arithmetic(operator.tokenType === t.Times ? "*" : "/", left, operator, right);
    });
    return left;
  });

  private readonly signed = this.RULE("signed", (): Formula => {
    let signs: IToken[] | undefined;
    this.MANY(() => {
      signs ??= [];
      signs.push(this.OR([{ ALT: () => this.CONSUME(t.Minus) }, { ALT: () => this.CONSUME(t.Plus) }]));
    });
    const lone = this.LA(1).tokenType === t.NumberWord;
    const node = this.SUBRULE(this.spread);
    return signs === undefined || this.learning ? node : withSigns(signs, node, lone);
  });

  private readonly spread = this.RULE("spread", (): Formula => {
    const of = this.SUBRULE(this.power);
    const by = this.OPTION(() => {
      this.CONSUME(t.Spread);
      return this.SUBRULE2(this.power);
    });
    if (by === undefined || this.learning) return of;
    return { type: "spread", of, by, span: { from: of.span.from, to: by.span.to } };
  });

  private readonly power = this.RULE("power", (): Formula => {
    const first = this.SUBRULE(this.path);
    let raised: Raised[] | undefined;
    this.MANY(() => {
      const operator = this.CONSUME(t.Power);
      const sign = this.OPTION(() => this.CONSUME(t.Minus));
      const lone = this.LA(1).tokenType === t.NumberWord;
      const to = this.SUBRULE2(this.path);
      raised ??= [];
      raised.push({ operator, sign, lone, to });
    });
    return raised === undefined || this.learning ? first : powers(first, raised);
  });

  private readonly path = this.RULE("path", (): Formula => {
    let node = this.SUBRULE(this.atom);
    this.MANY(() => {
      this.CONSUME(t.Dot);
      const part = this.CONSUME(t.Part);
      if (!this.learning) {
        const span = { from: node.span.from, to: endOf(part) };
        node = { type: "part", of: node, part: nameOf(part), partSpan: spanAt(part), span };
      }
    });
    return node;
  });

  private readonly atom = this.RULE(
    "atom",
    (): Formula =>
      this.OR([
        { ALT: () => this.SUBRULE(this.reading) },
        { ALT: () => this.SUBRULE(this.named) },
        { ALT: () => this.SUBRULE(this.bracketed) },
        { ALT: () => this.SUBRULE(this.list) },
        { ALT: () => textNode(this.CONSUME(t.Text)) },
        { ALT: () => dateNode(this.CONSUME(t.DateWord)) },
        { ALT: () => ({ type: "truth", value: true, span: spanAt(this.CONSUME(t.True)) }) },
        { ALT: () => ({ type: "truth", value: false, span: spanAt(this.CONSUME(t.False)) }) },
        { ALT: () => ({ type: "blank", span: spanAt(this.CONSUME(t.Blank)) }) },
      ]),
  );

  private readonly named = this.RULE("named", (): Formula => {
    const name = this.CONSUME(t.Name);
    const values = this.OPTION(() => this.SUBRULE(this.values));
    const nameSpan = spanAt(name);
    if (values === undefined) return { type: "name", name: nameOf(name), span: nameSpan };
    const span = { from: name.startOffset, to: values.to };
    return { type: "call", name: nameOf(name), nameSpan, arguments: values.given, span };
  });

  private readonly values = this.RULE("values", (): { given: Argument[]; to: number } => {
    const given: Argument[] = [];
    this.CONSUME(t.OpenBracket);
    this.MANY_SEP({ SEP: t.Comma, DEF: () => given.push(this.SUBRULE(this.argument)) });
    const close = this.CONSUME(t.CloseBracket);
    return { given, to: endOf(close) };
  });

  private readonly argument = this.RULE("argument", (): Argument => {
    const token = this.OPTION(() => {
      const label = this.CONSUME(t.Label);
      this.CONSUME(t.Colon);
      return label;
    });
    const label = this.given(token);
    const value = this.SUBRULE(this.formula);
    return label === undefined ? { value } : { label: nameOf(label), labelSpan: spanAt(label), value };
  });

  private readonly bracketed = this.RULE("bracketed", (): Formula => {
    const open = this.CONSUME(t.OpenBracket);
    const node = this.SUBRULE(this.formula);
    const close = this.CONSUME(t.CloseBracket);
    return { ...node, span: { from: open.startOffset, to: endOf(close) } };
  });

  private readonly list = this.RULE("list", (): Formula => {
    const entries: Formula[] = [];
    const open = this.CONSUME(t.OpenSquare);
    this.MANY_SEP({ SEP: t.Comma, DEF: () => entries.push(this.SUBRULE(this.formula)) });
    const close = this.CONSUME(t.CloseSquare);
    return { type: "list", entries, span: { from: open.startOffset, to: endOf(close) } };
  });
}
