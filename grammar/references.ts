import { BookNames, type Meaning, type Scope, type Shape } from "./book-names";
import { tokensOf } from "./plain-tokens";
import { isPlain } from "./statements";
import type { BookTree, Formula, PartNode, Span, Statement, StatementNode, TableTree } from "./tree";
import { childrenOf, sourceOf } from "./walk";

/**
 * Where the names of a book are used, and what each means there: a parameter or variable, a column of the table
 * around, a value or table of the book, a definition. This is read off the text alone. Where only a calculation could
 * tell which table a list comes from, the meaning is left open.
 */

/** One use of a name. */
export interface Reference {
  readonly statement: Statement;
  /** Counted from the statement's start; backticks included, brackets around the name not. */
  readonly span: Span;
  readonly name: string;
  readonly meaning: Meaning;
  /** How it is written: by itself, behind a dot, before a bracket, or as the name that `find` or `curve` moves. */
  readonly as: "bare" | "part" | "call" | "variable";
  readonly inCell: boolean;
  readonly scope: Scope | undefined;
}

/** Every use of a name in a book, statement by statement. */
export function referencesIn(tree: BookTree, names = new BookNames(tree)): readonly Reference[] {
  return new Finder(names).all();
}

/** A formula that waits to be looked at, with what it sees. */
interface Waiting {
  readonly formula: Formula;
  readonly scope: Scope | undefined;
}

const DEEPEST_CALL = 8;
/** Steps that may be spent on the shapes in one statement; definitions that call definitions multiply. */
const MOST_STEPS = 20_000;

class Finder {
  private found: Reference[] = [];
  private statement!: Statement;
  private inCell = false;
  private steps = 0;
  private readonly shapes = new Map<Statement, Shape | undefined>();
  private parameters = new Map<Statement, ReadonlyMap<string, Shape | undefined>>();
  private passed = new Map<string, (Shape | undefined)[][]>();

  constructor(private readonly names: BookNames) {}

  all(): readonly Reference[] {
    if (this.names.defines.size > 0) {
      // The first pass tells which tables the parameters of the definitions come from.
      this.visitAll();
      this.parameters = this.parameterShapes();
      this.shapes.clear();
      this.found = [];
    }
    this.visitAll();
    return this.found;
  }

  private visitAll(): void {
    const { tree } = this.names;
    for (const statement of tree.statements) {
      this.statement = statement;
      this.steps = 0;
      this.visitStatement(statement.node, tree.tableOf.get(statement));
    }
  }

  private visitStatement(node: StatementNode, table: TableTree | undefined): void {
    const columns = (as: "row" | "foot"): Scope | undefined =>
      table === undefined ? undefined : { type: "columns", table, as, outer: undefined };
    switch (node.type) {
      case "set":
        this.visit([node.formula, node.trial?.from, node.trial?.to, node.trial?.step], undefined);
        break;
      case "define":
        this.visit([node.formula], {
          type: "locals",
          names: this.parametersOf(node),
          outer: undefined,
        });
        break;
      case "column":
        this.visit([node.formula], columns("row"));
        break;
      case "foot":
        this.visit([node.formula], columns("foot"));
        break;
      case "check":
        this.visit([node.formula], undefined);
        break;
      case "row":
        this.inCell = true;
        for (const { content } of node.cells)
          if (content.type === "formula") this.visit([content.formula], columns("row"));
        this.inCell = false;
        break;
      case "chart":
        this.visitChart(node);
        break;
      case "step":
        this.visit([node.text, node.wait, ...node.asks.flatMap((ask) => [ask.path, ask.expect])], undefined);
        break;
      case "seen":
        this.visitSeen(node.path);
        break;
      default:
        break;
    }
  }

  private visitChart(node: Extract<StatementNode, { type: "chart" }>): void {
    if (node.style !== "curve") {
      this.visit([...node.what, node.by], undefined);
      return;
    }
    this.visit(node.what, this.variable(node.variable, undefined));
    this.visit([node.from, node.to, node.mark], undefined);
    this.add(node.variableSpan, node.variable, this.moved(node.variable, undefined), "variable", undefined);
  }

  /** A tick may stand on a definition as well. */
  private visitSeen(path: Formula): void {
    if (path.type === "name" && this.names.ofBook(path.name).kind === "open") {
      const define = this.names.defines.get(path.name);
      const meaning: Meaning =
        define === undefined ? { kind: "open" } : { kind: "define", statement: define };
      this.add(path.span, path.name, meaning, "bare", undefined);
    } else this.visit([path], undefined);
  }

  private visit(formulas: readonly (Formula | undefined)[], scope: Scope | undefined): void {
    const waiting: Waiting[] = [];
    for (const formula of formulas) if (formula !== undefined) waiting.push({ formula, scope });
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) this.step(next, waiting);
  }

  private step({ formula, scope }: Waiting, waiting: Waiting[]): void {
    switch (formula.type) {
      case "name":
        this.add(formula.span, formula.name, this.names.resolve(formula.name, scope), "bare", scope);
        return;
      case "part": {
        const base = this.path(formula, scope);
        if (base !== undefined) waiting.push({ formula: base, scope });
        return;
      }
      case "call": {
        const define = this.names.defines.get(formula.name);
        const meaning: Meaning =
          define === undefined ? { kind: "open" } : { kind: "define", statement: define };
        this.add(formula.nameSpan, formula.name, meaning, "call", scope);
        if (define !== undefined) this.pass(formula.name, formula.arguments, scope, define);
        for (const { value } of formula.arguments) waiting.push({ formula: value, scope });
        return;
      }
      case "find":
        this.add(formula.nameSpan, formula.name, this.moved(formula.name, scope), "variable", scope);
        waiting.push({ formula: formula.from, scope }, { formula: formula.to, scope });
        waiting.push({ formula: formula.goal, scope: this.variable(formula.name, scope) });
        return;
      case "where":
        waiting.push({ formula: formula.of, scope });
        waiting.push({ formula: formula.condition, scope: this.rowsOf(formula.of, scope) });
        return;
      default:
        for (const child of childrenOf(formula)) waiting.push({ formula: child, scope });
    }
  }

  private add(
    span: Span,
    name: string,
    meaning: Meaning,
    as: Reference["as"],
    scope: Scope | undefined,
  ): void {
    const { statement, inCell } = this;
    this.found.push({ statement, span: this.inBrackets(span), name, meaning, as, inCell, scope });
  }

  /** The name alone where a formula is a name in brackets: without them `not(a)` would become `notb`. */
  private inBrackets(span: Span): Span {
    const { statement, inCell } = this;
    const { text } = this.names.tree;
    if (text[statement.at + span.from] !== "(") return span;
    const tokens = tokensOf(sourceOf(text, statement), span.from, span.to, inCell ? "inner" : "formula");
    const name = tokens.find(({ type }) => type !== "operator")!;
    return { from: name.from, to: name.to };
  }

  /** What `find` or `curve` moves: a set whose formula is a plain quantity, else a variable of its own. */
  private moved(name: string, scope: Scope | undefined): Meaning {
    const meaning = this.names.resolve(name, scope);
    const isSet =
      meaning.kind === "set" &&
      meaning.statement.node.type === "set" &&
      isPlain(meaning.statement.node.formula);
    return isSet ? meaning : { kind: "local" };
  }

  private variable(name: string, scope: Scope | undefined): Scope | undefined {
    if (this.moved(name, scope).kind === "set") return scope;
    return { type: "locals", names: new Map([[name, undefined]]), outer: scope };
  }

  /** The condition of a `where` sees the columns of the table that the list comes from. */
  private rowsOf(list: Formula, scope: Scope | undefined): Scope | undefined {
    const shape = this.shapeOf(list, scope, 0);
    return shape === undefined ? scope : { type: "columns", table: shape.table, as: "row", outer: scope };
  }

  /** Looks at a path. A base that is no name is handed back, to be looked at by itself. */
  private path(formula: PartNode, scope: Scope | undefined): Formula | undefined {
    const { base, parts } = unroll(formula);
    if (base.type !== "name") {
      this.parts(parts, this.shapeOf(base, scope, 0), scope);
      return base;
    }
    const local = this.names.resolve(base.name, scope).kind === "local";
    const own = local ? undefined : nearestColumns(scope);
    const first = parts[0]!;
    if (own !== undefined && base.name === "before")
      this.parts(parts, { kind: "row", table: own.table }, scope);
    else if (own !== undefined && base.name === "foot") this.column(first, own.table, scope);
    else if (!local && base.name === "book") this.bookPath(parts, scope);
    else {
      this.add(base.span, base.name, this.names.resolve(base.name, scope), "bare", scope);
      this.parts(parts, this.shapeOf(base, scope, 0), scope);
    }
    return undefined;
  }

  private bookPath(parts: readonly PartNode[], scope: Scope | undefined): void {
    const [first, ...rest] = parts;
    const meaning = this.names.ofBook(first!.part);
    this.add(first!.partSpan, first!.part, meaning, "part", scope);
    this.parts(rest, this.shapeOfMeaning(meaning, 0), scope);
  }

  private column(part: PartNode, table: TableTree, scope: Scope | undefined): void {
    const known = this.names.columnsOf(table).has(part.part);
    const meaning: Meaning = known ? { kind: "column", table, name: part.part } : { kind: "open" };
    this.add(part.partSpan, part.part, meaning, "part", scope);
  }

  /** The parts of a path behind something of a known shape. */
  private parts(parts: readonly PartNode[], start: Shape | undefined, scope: Scope | undefined): void {
    let shape = start;
    for (let i = 0; i < parts.length; i++) {
      const part = parts[i]!;
      if (
        shape?.kind === "table" &&
        part.part === "foot" &&
        parts[i + 1] !== undefined &&
        !this.names.columnsOf(shape.table).has("foot")
      ) {
        this.column(parts[++i]!, shape.table, scope);
        shape = undefined;
        continue;
      }
      const meaning = this.partMeaning(part.part, shape);
      this.add(part.partSpan, part.part, meaning, "part", scope);
      shape = behindPart(shape, meaning);
    }
  }

  private partMeaning(name: string, shape: Shape | undefined): Meaning {
    if (shape === undefined) return { kind: "open" };
    const { kind, table } = shape;
    if (kind !== "list" && this.names.columnsOf(table).has(name)) return { kind: "column", table, name };
    if (kind !== "row" && this.names.rowsOf(table).has(name)) return { kind: "row", table, name };
    return { kind: "open" };
  }

  // ---- shapes

  private shapeOf(formula: Formula, scope: Scope | undefined, calls: number): Shape | undefined {
    if (++this.steps > MOST_STEPS) return undefined;
    switch (formula.type) {
      case "name":
        return this.shapeOfName(formula.name, scope, calls);
      case "part":
        return this.shapeOfPath(formula, scope, calls);
      case "where":
      case "shown":
      case "spread":
      case "negate":
      case "not":
        return this.shapeOf(formula.of, scope, calls);
      case "choice":
        return this.shapeOf(formula.yes, scope, calls) ?? this.shapeOf(formula.no, scope, calls);
      case "call":
        return this.shapeOfCall(formula, scope, calls);
      case "arithmetic":
      case "compare":
      case "logic":
        return this.shapeOfChain(formula, scope, calls);
      default:
        return undefined;
    }
  }

  /** Entry by entry, so the first list tells the rows. The left side may be a chain of thousands. */
  private shapeOfChain(formula: Formula, scope: Scope | undefined, calls: number): Shape | undefined {
    const operands: Formula[] = [];
    let left = formula;
    while (left.type === "arithmetic" || left.type === "compare" || left.type === "logic") {
      operands.push(left.right);
      left = left.left;
    }
    operands.push(left);
    for (const operand of operands.reverse()) {
      const shape = this.shapeOf(operand, scope, calls);
      if (shape?.kind === "list") return shape;
    }
    return undefined;
  }

  private shapeOfName(name: string, scope: Scope | undefined, calls: number): Shape | undefined {
    for (let at = scope; at !== undefined; at = at.outer) {
      if (at.type === "locals" && at.names.has(name)) return at.names.get(name);
      if (at.type === "columns" && this.names.columnsOf(at.table).has(name))
        return at.as === "foot" ? { kind: "list", table: at.table } : undefined;
    }
    return this.shapeOfMeaning(this.names.ofBook(name), calls);
  }

  private shapeOfMeaning(meaning: Meaning, calls: number): Shape | undefined {
    if (meaning.kind === "table") return { kind: "table", table: meaning.table };
    if (meaning.kind !== "set" || meaning.statement.node.type !== "set") return undefined;
    const { statement } = meaning;
    if (!this.shapes.has(statement)) {
      this.shapes.set(statement, undefined); // a circle has no shape
      if (calls <= DEEPEST_CALL)
        this.shapes.set(statement, this.shapeOf(meaning.statement.node.formula, undefined, calls + 1));
    }
    return this.shapes.get(statement);
  }

  private shapeOfPath(formula: PartNode, scope: Scope | undefined, calls: number): Shape | undefined {
    const { base, parts } = unroll(formula);
    let rest = parts;
    let shape: Shape | undefined;
    const local = base.type === "name" && this.names.resolve(base.name, scope).kind === "local";
    if (base.type === "name" && !local && base.name === "book") {
      shape = this.shapeOfMeaning(this.names.ofBook(parts[0]!.part), calls);
      rest = parts.slice(1);
    } else shape = this.shapeOf(base, scope, calls);
    for (const part of rest) shape = behindPart(shape, this.partMeaning(part.part, shape));
    return shape;
  }

  private shapeOfCall(
    call: Extract<Formula, { type: "call" }>,
    scope: Scope | undefined,
    calls: number,
  ): Shape | undefined {
    const given = call.arguments.map(({ value }) => this.shapeOf(value, scope, calls));
    const define = this.names.defines.get(call.name)?.node;
    if (define?.type !== "define") return given.find((shape) => shape?.kind === "list");
    if (calls >= DEEPEST_CALL) return undefined;
    const names = new Map(
      define.parameters.map(({ name }, i) => [name, given[labelled(call.arguments, name) ?? i]]),
    );
    return this.shapeOf(define.formula, { type: "locals", names, outer: undefined }, calls + 1);
  }

  // ---- parameters

  private pass(
    name: string,
    given: readonly { readonly label?: string; readonly value: Formula }[],
    scope: Scope | undefined,
    define: Statement,
  ): void {
    if (define.node.type !== "define") return;
    const shapes = define.node.parameters.map((parameter, i) => {
      const argument = given[labelled(given, parameter.name) ?? i];
      return argument === undefined ? undefined : this.shapeOf(argument.value, scope, 0);
    });
    const calls = this.passed.get(name);
    if (calls === undefined) this.passed.set(name, [shapes]);
    else calls.push(shapes);
  }

  /** The shape of each parameter, where all calls of its definition agree. */
  private parameterShapes(): Map<Statement, ReadonlyMap<string, Shape | undefined>> {
    const result = new Map<Statement, ReadonlyMap<string, Shape | undefined>>();
    for (const [name, define] of this.names.defines) {
      const { node } = define;
      if (node.type !== "define") continue;
      const calls = this.passed.get(name) ?? [];
      const agreed = node.parameters.map((_, i) => {
        const first = calls[0]?.[i];
        const same = calls.every(
          (shapes) => shapes[i]?.kind === first?.kind && shapes[i]?.table === first?.table,
        );
        return same ? first : undefined;
      });
      result.set(define, new Map(node.parameters.map((parameter, i) => [parameter.name, agreed[i]])));
    }
    return result;
  }

  private parametersOf(
    node: Extract<StatementNode, { type: "define" }>,
  ): ReadonlyMap<string, Shape | undefined> {
    return (
      this.parameters.get(this.statement) ?? new Map(node.parameters.map(({ name }) => [name, undefined]))
    );
  }
}

function labelled(given: readonly { readonly label?: string }[], name: string): number | undefined {
  const at = given.findIndex((argument) => argument.label === name);
  return at < 0 ? undefined : at;
}

/** What a path begins with, and its parts from left to right. */
function unroll(path: PartNode): { readonly base: Formula; readonly parts: readonly PartNode[] } {
  const parts: PartNode[] = [];
  let base: Formula = path;
  while (base.type === "part") {
    parts.push(base);
    base = base.of;
  }
  return { base, parts: parts.reverse() };
}

function behindPart(shape: Shape | undefined, meaning: Meaning): Shape | undefined {
  if (shape?.kind !== "table") return undefined;
  if (meaning.kind === "column") return { kind: "list", table: shape.table };
  return meaning.kind === "row" ? { kind: "row", table: shape.table } : undefined;
}

function nearestColumns(scope: Scope | undefined): Extract<Scope, { type: "columns" }> | undefined {
  for (let at = scope; at !== undefined; at = at.outer) if (at.type === "columns") return at;
  return undefined;
}
