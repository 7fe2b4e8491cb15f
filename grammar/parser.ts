// biome-ignore-all lint/correctness/noComponentHookFactories: these are rules of a grammar, not components
import type { IParserErrorMessageProvider, IToken } from "chevrotain";
import { FormulaRules } from "./formula-rules";
import { nameOf } from "./lexer";
import { signed, spanAt, textNode, unitNode } from "./nodes";
import * as t from "./tokens";
import type { Cell, Formula, Span, StatementNode } from "./tree";
import { normal } from "./words";

/**
 * The rules of statements and cells; those of formulas are in formula-rules.ts. `language.ebnf` and `railroad.html`
 * are generated from both. Recovery is switched off: a statement is short, its first fault is told, and the next
 * statement is read afresh.
 */

type ChartNode = Extract<StatementNode, { type: "chart" }>;
type AskPart = Extract<StatementNode, { type: "step" }>["asks"][number];
type Trial = NonNullable<Extract<StatementNode, { type: "set" }>["trial"]>;
type CellContent = Cell["content"];
type Mutable<T> = { -readonly [K in keyof T]: T[K] };

export class LineParser extends FormulaRules {
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

  /** Makes ready for other tokens. */
  begin(tokens: IToken[]): void {
    this.input = tokens;
    this.plainTexts.length = 0;
    this.forget();
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
    const variable = this.CONSUME(t.Name);
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
      variable: nameOf(variable),
      variableSpan: spanAt(variable),
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
}
