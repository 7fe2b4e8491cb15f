import {
  type BookTree,
  type Cell,
  type Fix,
  nearName,
  type Span,
  type Statement,
  type SyntaxMessage,
} from "../../grammar";
import { kinds, type TroubleParts, unitExists, unitTrouble } from "../quantity";
import { vocabulary } from "../vocabulary";
import { isAway } from "../vocabulary/arrival";
import type { Fault, Value } from "../vocabulary/value";
import { ColumnList, WHOLE } from "./blocks";
import type { Calculation } from "./calculation";
import { readingTroubles, trialTroubles } from "./clauses";
import type { Compiled } from "./compilation";
import { compile } from "./compile";
import { circleTrouble, definitionCircles } from "./definition-circles";
import { describe, faultFrom, recordTrouble } from "./fault";
import { type DefineName, type Names, plainQuantity, type TableName } from "./names";
import type { PlanNode } from "./plan";
import type { Message } from "./report";
import { ownerOf, type Sink, type StepSink } from "./sinks";
import { plainBlank } from "./syntax";
import { TableRecord } from "./tables";

/** Gathers what is to be said about a book; one cause gives one message. */
export function gatherMessages(tree: BookTree, calculation: Calculation, sinks: readonly Sink[]): Message[] {
  const gathering = new Gathering(tree);
  calculation.allowance.recount();
  for (const message of tree.messages) gathering.syntax(message, 0);
  const { names, nodes } = calculation.plan;
  let table: TableName | undefined;
  for (const { node, messages, at } of tree.statements) {
    if (node.type === "table") table = names.tables.get(node.name);
    const cells = table && node.type === "row" ? node.cells : [];
    for (const message of messages) gathering.syntax(unitToo(message, cells, table, calculation), at);
  }
  titleMessages(tree, gathering);
  for (const double of names.doubles) {
    // Two headings of one name are told where the heading is read.
    if (double.statement.node.type === "heading") continue;
    gathering.add(double.statement, double.span, {
      code: "name-twice",
      says: `The ${double.what} \`${double.name}\` is defined on line ${double.first.line} already; that one counts.`,
      help:
        double.what === "foot"
          ? "A column has one foot; take one of them out."
          : "Give this one another name, or take it out.",
    });
  }
  nameMessages(calculation, gathering);
  for (const node of nodes.values()) nodeMessages(node, calculation, gathering);
  for (const sink of sinks) {
    askMessages(sink.statement, calculation, gathering);
    for (const { span, trouble } of sink.compiled.troubles) gathering.add(sink.statement, span, trouble);
    for (const fault of faultsOfSink(sink, calculation)) tell(fault, sink.path, sink.statement, gathering);
  }
  return gathering.done();
}

/** What mends the comma of a whole cell gives it the unit that its column goes by, too, where its heading gives none. */
function unitToo(
  message: SyntaxMessage,
  cells: readonly Cell[],
  table: TableName | undefined,
  calculation: Calculation,
): SyntaxMessage {
  const { code, span, fixes } = message;
  if (code !== "number-comma" || fixes === undefined) return message;
  const index = cells.findIndex((cell) => cell.span.from === span.from && cell.span.to === span.to);
  const nature = index < 0 ? undefined : calculation.nature(table!.columns[index]!.key);
  if (nature?.type !== "quantity" || nature.fromHeading || nature.unit.text === "") return message;
  const { text: unit } = nature.unit;
  return {
    ...message,
    fixes: fixes.map(({ says, certain, edits }) => ({
      says: `${says} ${unit}`,
      certain,
      edits: edits.map((edit) => ({ ...edit, text: `${edit.text} ${unit}` })),
    })),
  };
}

/** A book has one title. */
function titleMessages(tree: BookTree, gathering: Gathering): void {
  const [first, ...more] = tree.statements.filter(({ node }) => node.type === "book");
  for (const statement of more) {
    gathering.add(
      statement,
      { from: 0, to: statement.length },
      {
        code: "book-twice",
        says: `The title of the book stands on line ${first!.line} already; that one counts.`,
        help: "Take one of them out; `part` gives a part of the book a title of its own.",
      },
    );
  }
}

/** A step asks for a `set` that is blank or typed, or for a typed column of a table. */
function askMessages(statement: Statement, calculation: Calculation, gathering: Gathering): void {
  if (statement.node.type !== "step") return;
  const { wait } = statement.node;
  if (wait) {
    const { code } = compile(wait, { names: calculation.plan.names, place: "book", frames: [] });
    const value = calculation.evaluate(code, { pathOf: () => "" });
    if (
      value.type !== "fault" &&
      value.type !== "gap" &&
      (value.type !== "quantity" || value.unit.kind !== kinds.time)
    ) {
      gathering.add(statement, wait.span, {
        code: "wait-time",
        says: `A step waits for a time; this is ${describe(value)}.`,
        help: "Write for example `wait 40 min`.",
      });
    }
  }
  const { names } = calculation.plan;
  for (const ask of statement.node.asks) {
    const { path, unit } = ask;
    for (const { span, trouble } of readingTroubles(ask, calculation))
      gathering.add(statement, span, trouble);
    if (unit && unitTrouble(unit.text)) gathering.add(statement, unit.span, unitTrouble(unit.text)!);
    if (path.type === "name") {
      const set = names.sets.get(path.name);
      if (set?.formula && !plainQuantity(set.formula) && !plainBlank(set.formula)) {
        gathering.add(statement, path.span, {
          code: "ask-computed",
          says: `\`${path.name}\` is worked out by a formula, so a reading cannot take its place.`,
          help: `Ask for a \`set\` that is blank: \`set reading = blank in mL\`.`,
        });
      } else if (!set)
        gathering.add(
          statement,
          path.span,
          askUnknown(path.name, [...names.sets.keys(), ...names.tables.keys()]),
        );
      continue;
    }
    // What is no path at all was told where the step was read.
    if (path.type !== "part") continue;
    if (path.of.type !== "name" || names.sets.has(path.of.name)) {
      gathering.add(statement, path.span, {
        code: "ask-column",
        says: "A reading is asked for a `set` or for a column of a table, and this is a part of one.",
        help: "Ask for the whole column, `ask runs.got`: each run becomes a row of its own.",
      });
      continue;
    }
    const table = names.tables.get(path.of.name);
    if (!table) {
      gathering.add(statement, path.of.span, askNoTable(path.of.name, path.part, names.tables.keys()));
    } else if (table.byName.get(path.part)?.typed === undefined) {
      const near = nearName(
        path.part,
        [...table.byName.values()].filter((c) => c.typed !== undefined).map((c) => c.name),
      );
      gathering.add(statement, path.partSpan, {
        code: "ask-column",
        says: table.byName.has(path.part)
          ? `The column \`${path.part}\` of table ${table.name} is computed, so a reading cannot be written in it.`
          : `Table ${table.name} has no column \`${path.part}\` for the reading.`,
        ...(near !== undefined && { help: `\`${near}\` is near.` }),
      });
    }
  }
}

function askUnknown(name: string, known: Iterable<string>): TroubleParts {
  const near = nearName(name, known);
  return {
    code: "ask-unknown",
    says: `There is no value or table called \`${name}\` for the reading.`,
    help:
      near !== undefined
        ? `\`${near}\` is near.`
        : `Add \`set ${name} = blank in mL\`, in the unit that is read.`,
  };
}

function askNoTable(name: string, column: string, known: Iterable<string>): TroubleParts {
  const near = nearName(name, known);
  return {
    code: "ask-unknown",
    says: `There is no table called \`${name}\` for the reading.`,
    help:
      near !== undefined
        ? `\`${near}\` is near.`
        : `Add a table ${name} with a column \`${column}\`, and the unit that is read in its heading; or ask for a value by its name alone.`,
  };
}

/** Trouble whose rewrite is likely, such as the nearest name, but may not be what was meant. */
export const GUESSED: ReadonlySet<string> = new Set([
  "name-unknown",
  "function-unknown",
  "column-unknown",
  "part-unknown",
  "label-unknown",
  "percent-of-what",
  "unit-near",
]);

/** The one rewrite that a trouble knows, as a fix of what stands in a stretch. */
export function fixesOf(
  { code, rewrite }: TroubleParts,
  { from, to }: Span,
): { readonly fixes?: readonly Fix[] } {
  if (rewrite === undefined) return {};
  const edits = [{ span: { from, to }, text: rewrite }];
  return { fixes: [{ says: `Write ${rewrite}`, certain: !GUESSED.has(code), edits }] };
}

/** A limit is told once, where it was first met: once for each statement, or once for the book. */
const LIMITS: ReadonlyMap<string, "statement" | "book"> = new Map([
  ["define-limit", "statement"],
  ["defines-limit", "book"],
  ["call-limit", "book"],
  ["work-limit", "book"],
]);

class Gathering {
  private readonly found: Message[] = [];
  private readonly seen = new Set<string>();
  /** Definitions whose trouble has been told at the definition. */
  readonly judged = new Set<string>();
  private readonly starts: number[];
  private readonly text: string;

  constructor(tree: BookTree) {
    this.text = tree.text;
    this.starts = [0];
    for (let i = tree.text.indexOf("\n"); i >= 0; i = tree.text.indexOf("\n", i + 1)) this.starts.push(i + 1);
  }

  syntax(message: SyntaxMessage, at: number): void {
    const from = at + message.span.from;
    const to = at + message.span.to;
    const fixes = message.fixes?.map((fix) => moved(fix, at));
    this.push({
      code: message.code,
      severity: message.severity,
      from,
      to,
      says: message.says,
      ...(message.help !== undefined && { help: message.help }),
      ...(fixes && { fixes }),
    });
  }

  add(
    statement: Statement,
    span: Span,
    trouble: TroubleParts,
    path?: string,
    severity: Message["severity"] = "fault",
  ): void {
    const limit = LIMITS.get(trouble.code);
    if (limit) {
      const key = limit === "book" ? trouble.code : `${trouble.code} ${statement.at}`;
      if (this.seen.has(key)) return;
      this.seen.add(key);
    }
    const from = statement.at + span.from;
    const to = statement.at + span.to;
    this.push({
      code: trouble.code,
      severity,
      from,
      to,
      ...(path !== undefined && { path }),
      says: trouble.says,
      ...(trouble.help !== undefined && { help: trouble.help }),
      ...fixesOf(trouble, { from, to }),
    });
  }

  /** Whether a limit of the whole book has been told. */
  hasTold(code: string): boolean {
    return LIMITS.get(code) === "book" && this.seen.has(code);
  }

  private push(message: Omit<Message, "line" | "column">): void {
    const key = `${message.code} ${message.from} ${message.to}`;
    if (this.seen.has(key)) return;
    this.seen.add(key);
    const line = this.lineOf(message.from);
    this.found.push({ ...message, line: line + 1, column: message.from - this.starts[line]! + 1 });
  }

  private lineOf(offset: number): number {
    let low = 0;
    let high = this.starts.length - 1;
    const at = Math.min(offset, this.text.length);
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.starts[middle]! <= at) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  done(): Message[] {
    return this.found.sort((a, b) => a.from - b.from || a.to - b.to || (a.code < b.code ? -1 : 1));
  }
}

function moved(fix: Fix, by: number): Fix {
  return {
    ...fix,
    edits: fix.edits.map((e) => ({ ...e, span: { from: e.span.from + by, to: e.span.to + by } })),
  };
}

function definitionTroubles(define: DefineName, names: Names): Compiled["troubles"] {
  if (!define.formula) return [];
  const { troubles } = compile(
    define.formula,
    { names, place: "book", frames: [define.parameters] },
    names.expansion,
  );
  return troubles;
}

function nameMessages(calculation: Calculation, gathering: Gathering): void {
  const { names } = calculation.plan;
  const unitNote = (name: string) => ({
    code: "name-is-unit",
    says: `\`${name}\` is also a unit; behind a number it means the unit.`,
  });
  for (const set of names.sets.values()) {
    const node = set.statement.node;
    if (node.type !== "set") continue;
    for (const { span, trouble } of trialTroubles(node, calculation))
      gathering.add(set.statement, span, trouble, set.name);
    if (unitExists(set.name))
      gathering.add(set.statement, node.nameSpan, unitNote(set.name), set.name, "note");
  }
  for (const { members, span } of definitionCircles(names)) {
    const [first] = members as [DefineName];
    const told = members.map((define) => define.name);
    gathering.add(first.statement, span, circleTrouble(told), first.name);
    for (const name of told) gathering.judged.add(name);
  }
  for (const define of names.defines.values()) {
    const node = define.statement.node;
    if (node.type !== "define") continue;
    if (vocabulary.has(define.name) || isAway(define.name)) {
      gathering.add(
        define.statement,
        node.nameSpan,
        {
          code: "define-shadows",
          says: `The vocabulary also has a function \`${define.name}\`; in this book yours counts.`,
        },
        define.name,
        "note",
      );
    }
    // A definition that nothing calls yet is judged too, and one that is called is judged where it stands.
    for (const { span, trouble } of definitionTroubles(define, names)) {
      gathering.add(define.statement, span, trouble, define.name);
      gathering.judged.add(define.name);
    }
  }
  for (const table of names.tables.values()) {
    for (const foot of table.feet.values()) {
      if (table.byName.has(foot.name)) continue;
      const node = foot.statement.node;
      gathering.add(
        foot.statement,
        node.type === "foot" ? node.nameSpan : { from: 0, to: foot.statement.length },
        {
          code: "foot-column",
          says: `Table ${table.name} has no column \`${foot.name}\` to put a foot under.`,
          help: `Its columns are ${[...table.byName.keys()].join(", ")}.`,
        },
      );
    }
  }
}

function nodeMessages(node: PlanNode, calculation: Calculation, gathering: Gathering): void {
  if (node.type === "rows") return;
  if (node.type === "formula") {
    for (const { span, trouble } of node.compiled?.troubles ?? [])
      gathering.add(node.statement, span, trouble, node.pathOf(-1));
    const value = calculation.value(node.key);
    for (const fault of faultsIn(value)) tell(fault, node.pathOf(-1), node.statement, gathering);
    return;
  }
  if (node.type === "computed") {
    for (const { span, trouble } of node.compiled.troubles)
      gathering.add(node.statement, span, trouble, node.pathOf(-1));
  } else {
    const nature = calculation.nature(node.key);
    if (nature?.type === "broken") {
      gathering.add(node.table.tree.heading!, nature.heading.unit!.span, nature.trouble, node.pathOf(-1));
      return;
    }
  }
  const store = calculation.store(node.key)!;
  store.blocks.forEach((block, b) => {
    if (!block.whole) return;
    for (let i = 0; i < block.status.length; i++) {
      if (block.status[i] !== WHOLE) continue;
      const value = block.whole[i]!;
      if (value.type !== "fault" || gathering.hasTold(value.code)) continue;
      const row = b * 1024 + i;
      const statement = node.type === "computed" ? node.statement : node.table.tree.rows[row]!;
      tell(value, node.pathOf(row), statement, gathering);
    }
  });
}

/** What goes wrong in a check or a step itself, not in what it looks at. A chart tells its own below its title. */
function* faultsOfSink(sink: Sink | StepSink, calculation: Calculation): Generator<Fault> {
  const owner = ownerOf(sink);
  const work = (compiled: Compiled): Value => calculation.evaluate(compiled.code, owner);
  if ("pieces" in sink) {
    const { node } = sink.statement;
    for (const [i, piece] of sink.pieces.entries()) {
      if (typeof piece === "string") continue;
      const value = work(piece);
      const written = node.type === "step" ? node.text.pieces[i]! : "";
      if (value.type === "record" && typeof written !== "string")
        yield faultFrom(recordTrouble(value), { path: sink.path, ...written.span });
      else yield* faultsIn(value);
    }
    if (sink.wait) yield* faultsIn(work(sink.wait));
    for (const expect of sink.asks) if (expect) yield* faultsIn(work(expect));
    return;
  }
  const { node } = sink.statement;
  if (node.type !== "check") return;
  const value = work(sink.compiled);
  if (answersCheck(value)) yield* faultsIn(value);
  else yield faultFrom(checkTrouble(value), { path: sink.path, ...node.formula.span });
}

/** Whether a check can be met or unmet by this, or waits for it. */
function answersCheck(value: Value): boolean {
  if (value.type === "list") return value.entries.every(answersCheck);
  return value.type === "truth" || value.type === "gap" || value.type === "fault";
}

function checkTrouble(value: Value): TroubleParts {
  return {
    code: "check-truth",
    says: `A check wants true or false; this comes to ${describe(value)}.`,
    help: "Write a comparison, such as `x > 2 L` or `x is 3`.",
  };
}

/** Says a fault where it began; where it only passes through, its cause has said it. */
function tell(fault: Fault, path: string, statement: Statement, gathering: Gathering): void {
  if (fault.place?.path !== path || fault.code === "unread") return;
  if (fault.place.inside !== undefined && gathering.judged.has(fault.place.inside)) return;
  gathering.add(statement, fault.place, fault, path);
}

function* faultsIn(value: Value): Generator<Fault> {
  // What is wrong in a cell of a table is told there.
  if (value instanceof ColumnList || value instanceof TableRecord) return;
  if (value.type === "fault") yield value;
  else if (value.type === "record") for (const part of value.parts.values()) yield* faultsIn(part);
  else if (value.type === "list")
    for (const entry of value.entries)
      if (entry.type === "fault" || entry.type === "record") yield* faultsIn(entry);
}
