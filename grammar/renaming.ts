import { BookNames, type Meaning, rowName, type Scope } from "./book-names";
import { setCell } from "./cell-edits";
import { writeName, writePart } from "./names";
import { type Edited, holderOf, nameTaken, newName, type Patch, patched, refused } from "./patches";
import { type Reference, referencesIn } from "./references";
import { writeHeading } from "./table-edits";
import type { BookTree, Span, Statement, TableTree } from "./tree";

/** What can be renamed, with every use of its name. */
export type Renamed =
  | { readonly kind: "set" | "define"; readonly statement: Statement }
  | { readonly kind: "table"; readonly table: TableTree }
  | { readonly kind: "column"; readonly table: TableTree; readonly name: string }
  | { readonly kind: "row"; readonly table: TableTree; readonly row: number };

/**
 * Gives a thing another name and writes that name wherever the old one meant it: bare and behind dots, in braces,
 * `ask`, `seen` and charts, with backticks where they are needed. A use that a nearer name would now hide is written
 * `book.name`. Refused when the name is taken, or when a use could not be told from something else afterwards.
 */
export function rename(tree: BookTree, what: Renamed, typed: string): Edited {
  return new Renaming(tree, what).to(typed);
}

const WORDS = { set: "value", define: "definition", table: "table", column: "column", row: "row" } as const;

class Renaming {
  private readonly names: BookNames;
  private readonly old: string;

  constructor(
    private readonly tree: BookTree,
    private readonly what: Renamed,
  ) {
    this.names = new BookNames(tree);
    this.old = oldName(what);
  }

  to(typed: string): Edited {
    const named = newName(typed, WORDS[this.what.kind]);
    if ("refused" in named) return { refused: named.refused };
    const { name } = named;
    if (name === this.old) return patched();
    const taken = this.taken(name);
    if (taken !== undefined) return taken;
    const patches: Patch[] = [];
    for (const reference of referencesIn(this.tree, this.names)) {
      const change = this.isMeant(reference.meaning)
        ? this.rewritten(reference, name)
        : this.hidden(reference, name);
      if (change === undefined) continue;
      if (typeof change !== "string") return change;
      patches.push(patchAt(reference.statement, reference.span, change));
    }
    const own = this.ownPatches(name);
    return own.refused === undefined ? patched(...own.patches, ...patches) : own;
  }

  /** Why the name cannot be had. */
  private taken(name: string): Edited | undefined {
    const { tree, what, names } = this;
    switch (what.kind) {
      case "set":
      case "table": {
        const holder = holderOf(tree, name, "value");
        return holder === undefined ? undefined : nameTaken(name, holder);
      }
      case "define": {
        const holder = holderOf(tree, name, "define");
        if (holder !== undefined) return nameTaken(name, holder);
        const call = referencesIn(tree, names).find((one) => one.as === "call" && one.name === name);
        return call === undefined
          ? undefined
          : refused(
              "name-taken",
              `Line ${call.statement.line} calls another function \`${name}\`.`,
              "Choose another name.",
            );
      }
      case "column":
        if (names.columnsOf(what.table).has(name))
          return refused("name-taken", `The table has a column \`${name}\` already.`, "Choose another name.");
        if (names.rowsOf(what.table).has(name))
          return refused("name-taken", `A row of the table is named \`${name}\`.`, "Choose another name.");
        return undefined;
      case "row":
        return this.rowTaken(what.table, name);
    }
  }

  /** Two rows may share a name until a path asks for it. */
  private rowTaken(table: TableTree, name: string): Edited | undefined {
    if (this.names.columnsOf(table).has(name))
      return refused("name-taken", `A column of the table is named \`${name}\`.`, "Choose another name.");
    if (!this.names.rowsOf(table).has(name)) return undefined;
    const asked = (one: Reference): boolean =>
      one.meaning.kind === "row" &&
      one.meaning.table === table &&
      (one.name === name || one.name === this.old);
    if (!referencesIn(this.tree, this.names).some(asked)) return undefined;
    return refused(
      "name-taken",
      `Another row is named \`${name}\`, and a formula asks for a row by that name.`,
      "Choose another name.",
    );
  }

  private isMeant(meaning: Meaning): boolean {
    const { what } = this;
    switch (what.kind) {
      case "set":
      case "define":
        return meaning.kind === what.kind && meaning.statement === what.statement;
      case "table":
        return meaning.kind === "table" && meaning.table === what.table;
      case "column":
        return meaning.kind === "column" && meaning.table === what.table && meaning.name === what.name;
      case "row":
        return (
          meaning.kind === "row" &&
          meaning.table === what.table &&
          meaning.name === this.old &&
          this.old !== ""
        );
    }
  }

  /** A use with the new name. */
  private rewritten(reference: Reference, name: string): string | Edited {
    const { as, scope, inCell } = reference;
    if (as === "part") return writePart(name, inCell);
    if (as === "call" || this.what.kind === "define") return writeName(name, inCell);
    const nearer = nearerThan(scope, this.names, name, this.what);
    if (nearer === undefined) return writeName(name, inCell);
    const canSkip = nearer === "columns" && as === "bare" && this.what.kind !== "column";
    if (canSkip) return `book.${writePart(name, inCell)}`;
    return refused(
      "name-hidden",
      `In line ${reference.statement.line} \`${name}\` means something nearer.`,
      "Choose another name, or rename the parameter, variable or column first.",
    );
  }

  /** A use of something else that the new name of a column would hide. */
  private hidden(reference: Reference, name: string): string | Edited | undefined {
    const { what } = this;
    if (
      what.kind !== "column" ||
      reference.name !== name ||
      reference.as === "part" ||
      reference.as === "call"
    )
      return undefined;
    if (!seesFirst(reference.scope, what.table, this.names, name)) return undefined;
    const { kind } = reference.meaning;
    if (kind === "local" && reference.as === "variable") return undefined;
    if ((kind === "set" || kind === "table") && reference.as === "bare")
      return `book.${writePart(name, reference.inCell)}`;
    if (kind === "open") return undefined;
    return refused(
      "name-hidden",
      `In line ${reference.statement.line} \`${name}\` means something else, which the column would hide.`,
      "Choose another name.",
    );
  }

  /** Patches where the thing itself is named. */
  private ownPatches(name: string): Edited {
    const { tree, what } = this;
    switch (what.kind) {
      case "set":
      case "define": {
        const { node } = what.statement;
        if (node.type !== "set" && node.type !== "define")
          return refused("rename-nothing", "This statement has no name.");
        return patched(patchAt(what.statement, node.nameSpan, writeName(name)));
      }
      case "table":
        return patched(patchAt(what.table.statement, what.table.statement.node.nameSpan, writeName(name)));
      case "row":
        return setCell(
          tree,
          what.table,
          what.row,
          0,
          name.startsWith('"') ? `"${name.replace(/["\\]/g, "\\$&")}"` : name,
        );
      case "column": {
        const named = [...what.table.columns, ...what.table.feet].filter(
          ({ node }) => node.name === what.name,
        );
        const patches = named.map((one) => patchAt(one, one.node.nameSpan, writeName(name)));
        const { heading } = what.table;
        const column = heading?.node.columns.find((one) => one.name === what.name);
        if (heading === undefined || column === undefined) return patched(...patches);
        const hasBracket = column.unit !== undefined || column.holds !== undefined;
        const written = hasBracket ? name.replaceAll("|", "\\|") : writeHeading(name, "");
        return patched(patchAt(heading, column.nameSpan, written), ...patches);
      }
    }
  }
}

function oldName(what: Renamed): string {
  switch (what.kind) {
    case "set":
    case "define": {
      const { node } = what.statement;
      return node.type === "set" || node.type === "define" ? node.name : "";
    }
    case "table":
      return what.table.name;
    case "column":
      return what.name;
    case "row": {
      const row = what.table.rows[what.row];
      return row === undefined ? "" : rowName(row);
    }
  }
}

function patchAt(statement: Statement, span: Span, insert: string): Patch {
  return { from: statement.at + span.from, to: statement.at + span.to, insert };
}

/** What would hide a name from where it is used: nothing, a column, or a parameter or variable. */
function nearerThan(
  scope: Scope | undefined,
  names: BookNames,
  name: string,
  what: Renamed,
): "columns" | "locals" | undefined {
  for (let at = scope; at !== undefined; at = at.outer) {
    if (at.type === "locals" && at.names.has(name)) return "locals";
    if (at.type === "columns" && what.kind === "column" && at.table === what.table) return undefined;
    if (at.type === "columns" && names.columnsOf(at.table).has(name)) return "columns";
  }
  return undefined;
}

/** Whether a name would meet the columns of a table before whatever it means now. */
function seesFirst(scope: Scope | undefined, table: TableTree, names: BookNames, name: string): boolean {
  for (let at = scope; at !== undefined; at = at.outer) {
    if (at.type === "locals" && at.names.has(name)) return false;
    if (at.type === "columns" && at.table === table) return true;
    if (at.type === "columns" && names.columnsOf(at.table).has(name)) return false;
  }
  return false;
}
