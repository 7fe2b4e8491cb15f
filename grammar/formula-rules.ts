// biome-ignore-all lint/correctness/noComponentHookFactories: these are rules of a grammar, not components
import { EmbeddedActionsParser, type IToken, type TokenType } from "chevrotain";
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
  spanAt,
  textNode,
  unitNode,
  withSigns,
} from "./nodes";
import * as t from "./tokens";
import type { Argument, Formula, NumberNode } from "./tree";

/** Tokens with which a product goes on behind an operand. */
const TIGHT: ReadonlySet<TokenType> = new Set([t.Times, t.Over, t.Spread, t.Power]);
/** Tokens with which a choice goes on behind an operand. */
const LOOSE: ReadonlySet<TokenType> = new Set([
  ...TIGHT,
  ...[t.Plus, t.Minus, t.In, t.Order, t.Is, t.Unequal, t.Within, t.And, t.Or, t.To],
]);

/** What stands in for a node while chevrotain walks through the rules to learn the grammar. */
const HOLLOW: NumberNode = { type: "number", digits: "0", span: { from: 0, to: 0 } };

/**
 * The rules of formulas, in the words and the order of the specification. They build the tree as they go.
 *
 * Chains of `^`, `else if`, `not` and signs are loops here, so that only brackets, braces and what stands between
 * the words of an `if` nest; limits.ts counts those before the parser starts.
 */
export abstract class FormulaRules extends EmbeddedActionsParser {
  /** True while chevrotain walks through the rules; nothing is built then. */
  protected learning = true;

  /** An operand that was read ahead of the layers around it; the rule `path` hands it over. */
  private ready: Formula | undefined;

  /**
   * Most formulas inside brackets are a lone operand, and most operands of a sum are no products. So an operand is
   * read first, and the layers of the grammar are gone through only when something that they look for follows. This
   * is about speed alone: what is read, and what is told of a fault, is the same.
   */
  private operandBefore(operators: ReadonlySet<TokenType>): Formula | undefined {
    if (this.learning || this.ready !== undefined || !t.OPERAND_STARTS.has(this.LA(1).tokenType))
      return undefined;
    const operand = this.SUBRULE(this.path);
    if (!operators.has(this.LA(1).tokenType)) return operand;
    this.ready = operand;
    return undefined;
  }

  /** Forgets what an earlier reading left when it stopped at a fault. */
  protected forget(): void {
    this.ready = undefined;
  }

  /** Whether a token comes next; always true while the grammar is learnt. */
  private sees(type: TokenType): boolean {
    return this.learning || this.LA(1).tokenType === type;
  }

  /** What an option gave; while the grammar is learnt chevrotain gives a stand-in. */
  protected given<T>(value: T | undefined): T | undefined {
    return this.learning ? undefined : value;
  }

  readonly formula = this.RULE("formula", (): Formula => {
    const of = this.SUBRULE(this.choice);
    if (!this.sees(t.Where)) return of;
    const condition = this.OPTION(() => {
      this.CONSUME(t.Where);
      return this.SUBRULE2(this.choice);
    });
    if (condition === undefined || this.learning) return of;
    return { type: "where", of, condition, span: { from: of.span.from, to: condition.span.to } };
  });

  protected readonly choice = this.RULE("choice", (): Formula => {
    const alone = this.operandBefore(LOOSE);
    if (alone !== undefined) return alone;
    if (this.ready !== undefined) return this.SUBRULE(this.range);
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

  protected readonly find = this.RULE("find", (): Formula => {
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

  protected readonly range = this.RULE("range", (): Formula => {
    const from = this.SUBRULE(this.either);
    let to: Formula | undefined;
    let step: Formula | undefined;
    if (!this.sees(t.To)) return from;
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

  protected readonly either = this.RULE("either", (): Formula => {
    let left = this.SUBRULE(this.both);
    if (!this.sees(t.Or)) return left;
    this.MANY(() => {
      const operator = this.CONSUME(t.Or);
      const right = this.SUBRULE2(this.both);
      if (!this.learning) left = logic("or", left, operator, right);
    });
    return left;
  });

  protected readonly both = this.RULE("both", (): Formula => {
    let left = this.SUBRULE(this.negation);
    if (!this.sees(t.And)) return left;
    this.MANY(() => {
      const operator = this.CONSUME(t.And);
      const right = this.SUBRULE2(this.negation);
      if (!this.learning) left = logic("and", left, operator, right);
    });
    return left;
  });

  protected readonly negation = this.RULE("negation", (): Formula => {
    let nots: number[] | undefined;
    if (this.sees(t.Not))
      this.MANY(() => {
        nots ??= [];
        nots.push(this.CONSUME(t.Not).startOffset);
      });
    let node = this.SUBRULE(this.comparison);
    if (nots === undefined || this.learning) return node;
    for (const at of nots.reverse()) node = { type: "not", of: node, span: { from: at, to: node.span.to } };
    return node;
  });

  protected readonly comparison = this.RULE("comparison", (): Formula => {
    const left = this.SUBRULE(this.shown);
    return this.OPTION(() => this.SUBRULE(this.compared, { ARGS: [left] })) ?? left;
  });

  /** What may stand behind the left side of a comparison. */
  protected readonly compared = this.RULE(
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

  protected readonly shown = this.RULE("shown", (): Formula => {
    const of = this.SUBRULE(this.sum);
    if (!this.sees(t.In)) return of;
    const unit = this.OPTION(() => {
      this.CONSUME(t.In);
      return this.CONSUME(t.Unit);
    });
    if (unit === undefined || this.learning) return of;
    return { type: "shown", of, unit: unitNode(unit), span: { from: of.span.from, to: endOf(unit) } };
  });

  protected readonly sum = this.RULE("sum", (): Formula => {
    let left = this.SUBRULE(this.product);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.Plus) }, { ALT: () => this.CONSUME(t.Minus) }]);
      const right = this.SUBRULE2(this.product);
      if (!this.learning) left = arithmetic(operator.tokenType === t.Plus ? "+" : "-", left, operator, right);
    });
    return left;
  });

  protected readonly product = this.RULE("product", (): Formula => {
    const alone = this.operandBefore(TIGHT);
    if (alone !== undefined) return alone;
    let left = this.SUBRULE(this.signed);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.Times) }, { ALT: () => this.CONSUME(t.Over) }]);
      const right = this.SUBRULE2(this.signed);
      if (!this.learning)
        left = arithmetic(operator.tokenType === t.Times ? "*" : "/", left, operator, right);
    });
    return left;
  });

  protected readonly signed = this.RULE("signed", (): Formula => {
    let signs: IToken[] | undefined;
    if (this.ready === undefined)
      this.MANY(() => {
        signs ??= [];
        signs.push(this.OR([{ ALT: () => this.CONSUME(t.Minus) }, { ALT: () => this.CONSUME(t.Plus) }]));
      });
    const lone = this.LA(1).tokenType === t.NumberWord;
    const node = this.SUBRULE(this.spread);
    return signs === undefined || this.learning ? node : withSigns(signs, node, lone);
  });

  protected readonly spread = this.RULE("spread", (): Formula => {
    const of = this.SUBRULE(this.power);
    if (!this.sees(t.Spread)) return of;
    const by = this.OPTION(() => {
      this.CONSUME(t.Spread);
      return this.SUBRULE2(this.power);
    });
    if (by === undefined || this.learning) return of;
    return { type: "spread", of, by, span: { from: of.span.from, to: by.span.to } };
  });

  protected readonly power = this.RULE("power", (): Formula => {
    const first = this.SUBRULE(this.path);
    let raised: Raised[] | undefined;
    if (!this.sees(t.Power)) return first;
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

  protected readonly path = this.RULE("path", (): Formula => {
    const { ready } = this;
    if (ready !== undefined) {
      this.ready = undefined;
      return ready;
    }
    let node = this.SUBRULE(this.atom);
    if (!this.sees(t.Dot)) return node;
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

  protected readonly atom = this.RULE(
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

  protected readonly named = this.RULE("named", (): Formula => {
    const name = this.CONSUME(t.Name);
    const nameSpan = spanAt(name);
    if (!this.sees(t.OpenBracket)) return { type: "name", name: nameOf(name), span: nameSpan };
    const values = this.OPTION(() => this.SUBRULE(this.values));
    if (values === undefined) return { type: "name", name: nameOf(name), span: nameSpan };
    const span = { from: name.startOffset, to: values.to };
    return { type: "call", name: nameOf(name), nameSpan, arguments: values.given, span };
  });

  protected readonly values = this.RULE("values", (): { given: Argument[]; to: number } => {
    const given: Argument[] = [];
    this.CONSUME(t.OpenBracket);
    this.MANY_SEP({ SEP: t.Comma, DEF: () => given.push(this.SUBRULE(this.argument)) });
    const close = this.CONSUME(t.CloseBracket);
    return { given, to: endOf(close) };
  });

  protected readonly argument = this.RULE("argument", (): Argument => {
    const token = this.OPTION(() => {
      const label = this.CONSUME(t.Label);
      this.CONSUME(t.Colon);
      return label;
    });
    const label = this.given(token);
    const value = this.SUBRULE(this.formula);
    return label === undefined ? { value } : { label: nameOf(label), labelSpan: spanAt(label), value };
  });

  protected readonly bracketed = this.RULE("bracketed", (): Formula => {
    const open = this.CONSUME(t.OpenBracket);
    const node = this.SUBRULE(this.formula);
    const close = this.CONSUME(t.CloseBracket);
    return { ...node, span: { from: open.startOffset, to: endOf(close) } };
  });

  protected readonly list = this.RULE("list", (): Formula => {
    const entries: Formula[] = [];
    const open = this.CONSUME(t.OpenSquare);
    this.MANY_SEP({ SEP: t.Comma, DEF: () => entries.push(this.SUBRULE(this.formula)) });
    const close = this.CONSUME(t.CloseSquare);
    return { type: "list", entries, span: { from: open.startOffset, to: endOf(close) } };
  });

  protected readonly reading = this.RULE("reading", (): NumberNode => {
    const number = this.CONSUME(t.NumberWord);
    const unit = this.given(this.OPTION(() => this.CONSUME(t.Unit)));
    return numberNode(number, unit);
  });
}
