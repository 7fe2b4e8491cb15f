import "../../../grammar/alterations-here";
import {
  type BookTree,
  canBeName,
  type Edited,
  type Meaning,
  normalName,
  type Patch,
  type Reference,
  type Renamed,
  rename,
  type Span,
  type Statement,
  type TableTree,
  writeName,
} from "../../../grammar";
import type { Book } from "../report";
import { parameterOf } from "./definition";
import { knownReferences } from "./references";

/** Something with a name that can be given another one. */
export interface NameHere {
  /** The name at the offset that was asked about, in the text of the book. */
  readonly from: number;
  readonly to: number;
  readonly name: string;
  /** What it names, in a word: "value", "table", "column", "row", "function", "parameter", "variable". */
  readonly what: string;
  /** The path that `referencesTo` takes; a parameter or variable, known in its own line only, has none. */
  readonly path?: string;
}

type Target = Renamed | { readonly kind: "local"; readonly statement: Statement; readonly name: string };

interface Here {
  readonly at: number;
  readonly span: Span;
  readonly target: Target;
}

const words: Readonly<Record<Target["kind"], string>> = {
  set: "value",
  define: "function",
  table: "table",
  column: "column",
  row: "row",
  local: "parameter",
};

/** The name at an offset of the book, where it is defined or used; undefined where there is none to change. */
export function nameAt(book: Book, offset: number): NameHere | undefined {
  const here = hereAt(book.tree, offset);
  if (here === undefined) return undefined;
  const { target } = here;
  const variable = target.kind === "local" && parameterOf(target.statement, target.name) === undefined;
  const path = pathOfTarget(target);
  return {
    from: here.at + here.span.from,
    to: here.at + here.span.to,
    name: nameOfTarget(target),
    what: variable ? "variable" : words[target.kind],
    ...(path !== undefined && { path }),
  };
}

function pathOfTarget(target: Target): string | undefined {
  if (target.kind === "local") return undefined;
  const name = writeName(nameOfTarget(target), false);
  return target.kind === "column" || target.kind === "row"
    ? `${writeName(target.table.name, false)}.${name}`
    : name;
}

function nameOfTarget(target: Target): string {
  switch (target.kind) {
    case "set":
    case "define": {
      const { node } = target.statement;
      return node.type === "set" || node.type === "define" || node.type === "unread" ? (node.name ?? "") : "";
    }
    case "table":
      return target.table.name;
    case "row":
      return nameOfRow(target.table, target.row);
    default:
      return target.name;
  }
}

/**
 * Gives the name at an offset another one, wherever it is used. Refused, with what stands in the way, when there is no
 * name, when the new one cannot be one or is taken, or when a use could not be told from something else afterwards.
 */
export function renameAt(book: Book, offset: number, newName: string): Edited {
  const here = hereAt(book.tree, offset);
  if (here === undefined) {
    return {
      refused: {
        code: "rename-nothing",
        says: "There is no name of this book here.",
        help: "Names of values, tables, columns, rows and functions of the book can be changed; those of the vocabulary cannot.",
      },
    };
  }
  const { target } = here;
  return target.kind === "local"
    ? renameLocal(book.tree, target, newName)
    : rename(book.tree, target, newName);
}

function hereAt(tree: BookTree, offset: number): Here | undefined {
  return defined(tree, offset) ?? used(tree, offset);
}

const within = (span: Span, at: number): boolean => span.from <= at && at <= span.to;

/** A name where it is defined. */
function defined(tree: BookTree, offset: number): Here | undefined {
  const statement = tree.statements.findLast((s) => s.at <= offset);
  if (statement === undefined || offset > statement.at + statement.length) return undefined;
  const { at, node } = statement;
  const { names } = knownReferences(tree);
  const table = tree.tableOf.get(statement);
  const inside = offset - at;
  const here = (span: Span, target: Target | undefined): Here | undefined =>
    target && within(span, inside) ? { at, span, target } : undefined;
  switch (node.type) {
    case "set":
      return here(
        node.nameSpan,
        names.sets.get(node.name) === statement ? { kind: "set", statement } : undefined,
      );
    case "define": {
      const own = names.defines.get(node.name) === statement;
      const parameter = node.parameters.find((p) => within(p.span, inside));
      if (parameter)
        return { at, span: parameter.span, target: { kind: "local", statement, name: parameter.name } };
      return here(node.nameSpan, own ? { kind: "define", statement } : undefined);
    }
    case "table":
      return here(node.nameSpan, table && { kind: "table", table });
    case "column":
    case "foot":
      return here(node.nameSpan, table && { kind: "column", table, name: node.name });
    case "heading": {
      const column = node.columns.find((c) => within(c.nameSpan, inside));
      return (
        table && column && { at, span: column.nameSpan, target: { kind: "column", table, name: column.name } }
      );
    }
    case "row": {
      const cell = node.cells[0];
      const row = table ? table.rows.indexOf(statement as TableTree["rows"][number]) : -1;
      if (table === undefined || cell === undefined || row < 0 || cell.content.type === "blank")
        return undefined;
      return here(cell.span, { kind: "row", table, row });
    }
    default:
      return undefined;
  }
}

/** A name where it is used. */
function used(tree: BookTree, offset: number): Here | undefined {
  const { references } = knownReferences(tree);
  const reference = references.find(({ statement, span }) => within(span, offset - statement.at));
  if (reference === undefined) return undefined;
  const { statement, span } = reference;
  const target = targetOf(reference.meaning, reference);
  return target && { at: statement.at, span, target };
}

function targetOf(meaning: Meaning, reference: Reference): Target | undefined {
  switch (meaning.kind) {
    case "set":
    case "define":
      return { kind: meaning.kind, statement: meaning.statement };
    case "table":
      return { kind: "table", table: meaning.table };
    case "column":
      return { kind: "column", table: meaning.table, name: meaning.name };
    case "row": {
      const row = meaning.table.rows.findIndex((_, i) => nameOfRow(meaning.table, i) === meaning.name);
      return row < 0 ? undefined : { kind: "row", table: meaning.table, row };
    }
    case "local":
      return { kind: "local", statement: reference.statement, name: reference.name };
    default:
      return undefined;
  }
}

function nameOfRow(table: TableTree, row: number): string {
  const cell = table.rows[row]?.node.cells[0];
  if (cell === undefined) return "";
  return cell.content.type === "text" ? cell.content.text : cell.raw;
}

// ---- parameters and variables

/** A parameter, or the variable of a `find` or a curve: it is known in its own statement only. */
function renameLocal(
  tree: BookTree,
  { statement, name: old }: { readonly statement: Statement; readonly name: string },
  typed: string,
): Edited {
  const refuse = (code: string, says: string, help?: string): Edited => ({
    refused: help === undefined ? { code, says } : { code, says, help },
  });
  const name = normalName(typed.trim());
  if (!canBeName(name))
    return refuse("name-empty", "A parameter needs a name, without a backtick and on one line.");
  if (name === old) return { patches: [] };
  const { node, at } = statement;
  const uses = knownReferences(tree).references.filter((r) => r.statement === statement);
  const parameters = node.type === "define" ? node.parameters : [];
  const variables = uses.filter((r) => r.as === "variable" && r.meaning.kind === "local");
  const declared = [...parameters.filter((p) => p.name === old), ...variables.filter((r) => r.name === old)];
  if (declared.length !== 1)
    return refuse(
      "name-unclear",
      `\`${old}\` stands for more than one thing in this line.`,
      "Change it by hand.",
    );
  const taken =
    parameters.some((p) => p.name === name) ||
    uses.some((r) => r.name === name && r.as !== "part" && r.as !== "call");
  if (taken) return refuse("name-taken", `\`${name}\` is used in this line already.`, "Choose another name.");
  const patches: Patch[] = [];
  const put = (span: Span): void => {
    patches.push({ from: at + span.from, to: at + span.to, insert: writeName(name, node.type === "row") });
  };
  put(declared[0]!.span);
  for (const r of uses) if (r.name === old && r.meaning.kind === "local" && r.as === "bare") put(r.span);
  if (node.type === "define") patches.push(...labelPatches(tree, node.name, old, name));
  return { patches: patches.sort((a, b) => a.from - b.from) };
}

/** Calls that give the parameter by its label. */
function labelPatches(tree: BookTree, define: string, old: string, name: string): readonly Patch[] {
  const { references } = knownReferences(tree);
  const called = references.filter(
    (r) => r.as === "call" && r.name === define && r.meaning.kind === "define",
  );
  const patches = new Map<number, Patch>();
  for (const { statement, span } of called) {
    for (const label of labelsBehind(tree.text, statement.at + span.to, statement.at + statement.length)) {
      if (label.name !== old) continue;
      patches.set(label.from, {
        from: label.from,
        to: label.to,
        insert: writeName(name, statement.node.type === "row"),
      });
    }
  }
  return [...patches.values()];
}

interface LabelHere {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** Labels directly inside the bracket that opens at or behind `from`. */
function labelsBehind(text: string, from: number, end: number): readonly LabelHere[] {
  const labels: LabelHere[] = [];
  let depth = 0;
  let fresh = false;
  for (let i = from; i < end; i++) {
    const c = text[i]!;
    if (c === '"') i = closingQuote(text, i, end);
    else if (c === "(" || c === "[") {
      depth++;
      fresh = depth === 1;
      continue;
    } else if (c === ")" || c === "]") {
      if (--depth <= 0) break;
    } else if (c === "," && depth === 1) {
      fresh = true;
      continue;
    } else if (/\s/.test(c)) continue;
    else if (fresh && depth === 1) {
      LABEL.lastIndex = i;
      const match = LABEL.exec(text);
      if (match) {
        const to = i + match[0].length;
        labels.push({ name: (match[1] ?? match[2]!).normalize("NFC"), from: i, to });
        i = to - 1;
      } else if (c === "`") i = closingTick(text, i, end);
    } else if (c === "`") i = closingTick(text, i, end);
    fresh = false;
  }
  return labels;
}

const LABEL = /(?:`([^`\n]+)`|([\p{L}_][\p{L}\p{M}\p{Nd}_]*))(?=\s*:)/uy;

/** Brackets in a name are letters of it. */
function closingTick(text: string, at: number, end: number): number {
  const close = text.indexOf("`", at + 1);
  return close < 0 ? end : close;
}

function closingQuote(text: string, at: number, end: number): number {
  for (let i = at + 1; i < end; i++) {
    if (text[i] === "\\") i++;
    else if (text[i] === '"') return i;
  }
  return end;
}
