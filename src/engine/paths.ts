import { type Formula, nearAmong, type PartNode, type Span, writeName } from "../../grammar";
import { type TroubleParts, unitExists } from "../quantity";
import { vocabulary } from "../vocabulary";
import { isAway } from "../vocabulary/arrival";
import { gap, record } from "../vocabulary/value";
import type { Look, Scope } from "./compilation";
import type { Code } from "./environment";
import { localCode } from "./locals";
import { cellsKey, footKey, isTaken, rowsKey, setKey, type TableName, valueNames } from "./names";
import { noColumn, partOf, rowOf } from "./parts";
import { at } from "./places";
import { TableRecord } from "./tables";

/** What names and paths need of the formula around them. */
export interface Host {
  refer(key: string, look: Look): void;
  /** A table is looked at as a whole, the order of its columns included. */
  handOn(table: TableName): void;
  trouble(span: Span, trouble: TroubleParts): Code;
  formula(node: Formula, scope: Scope): Code;
}

/**
 * What bare names and dotted paths mean where they stand: an argument, a column of the table around them,
 * a value or a table of the book, in this order; and which values they make the formula look at.
 */
export class Paths {
  private readonly host: Host;

  constructor(host: Host) {
    this.host = host;
  }

  name(name: string, span: Span, scope: Scope): Code {
    const local = localCode(name, scope);
    if (local) return local;
    if (scope.table) {
      const column = this.ownColumn(name, scope);
      if (column) return column;
      if (isTaken(name)) {
        return this.host.trouble(span, {
          code: "name-taken",
          says: `\`${name}\` stands before a dot: \`${name}.${name === "book" ? "NAME" : "column"}\`.`,
        });
      }
    }
    return this.bookName(name, span, scope);
  }

  private ownColumn(name: string, scope: Scope): Code | undefined {
    const table = scope.table!;
    if (!table.byName.has(name)) return undefined;
    const key = cellsKey(table.name, name);
    if (scope.place === "foot") {
      this.host.refer(key, "whole");
      return (env) => env.values.column(key);
    }
    this.host.refer(key, "row");
    return (env) => env.values.cell(key, env.row);
  }

  private bookName(name: string, span: Span, scope: Scope): Code {
    const set = scope.names.sets.get(name);
    if (set) {
      const key = setKey(name);
      this.host.refer(key, "value");
      return (env) => env.values.value(key);
    }
    const table = scope.names.tables.get(name);
    if (table) {
      this.referTable(table);
      return (env) => new TableRecord(table, env.values);
    }
    return this.host.trouble(span, this.unknownName(name, scope));
  }

  private referTable(table: TableName): void {
    this.host.handOn(table);
    this.host.refer(rowsKey(table.name), "whole");
    for (const column of table.columns) this.host.refer(cellsKey(table.name, column.name), "whole");
    for (const foot of table.feet.keys()) this.host.refer(footKey(table.name, foot), "value");
  }

  private unknownName(name: string, scope: Scope): TroubleParts {
    // A column that is called just so is meant rather than a name that is near.
    const columns = [...scope.names.tables.values()].filter((t) => t.byName.has(name));
    const around = [...scope.frames.flat(), ...(scope.table ? scope.table.byName.keys() : [])];
    const near =
      columns.length > 0
        ? undefined
        : (nearAmong(name, around) ?? nearAmong(name, valueNames(scope.names), scope.own));
    let help: string | undefined;
    if (near !== undefined) help = `\`${near}\` is near.`;
    else if (isTaken(name))
      help = `\`${name}.…\` belongs to the formulas of a table; here the whole path is written, such as \`table.column\`.`;
    else if (vocabulary.has(name) || isAway(name) || scope.names.defines.has(name))
      help = `It is a function: write \`${name}(…)\`.`;
    else if (columns[0]) {
      const { name: table, feet } = columns[0];
      const path = (of: string) => `\`${writeName(table)}.${of}${writeName(name)}\``;
      help = `Table ${table} has a column of that name: write ${path("")}${feet.has(name) ? `, or ${path("foot.")} for what stands under it` : ""}.`;
    } else if (unitExists(name))
      help = `It is a unit; a unit stands directly behind a number or after \`in\`. To multiply by one, write \`1 ${name}\`.`;
    else help = `Give it a value of its own: \`set ${writeName(name)} = …\`.`;
    return {
      code: "name-unknown",
      says: `Nothing here is called \`${name}\`.`,
      ...(help !== undefined && { help }),
      ...(near !== undefined && { rewrite: writeName(near) }),
    };
  }

  path(node: PartNode, scope: Scope): Code {
    const parts: PartNode[] = [];
    let base: Formula = node;
    while (base.type === "part") {
      parts.unshift(base);
      base = base.of;
    }
    if (base.type !== "name") return this.parts(this.host.formula(base, scope), parts);
    const { name, span } = base;
    const local = localCode(name, scope);
    if (local) return this.parts(local, parts);
    if (scope.table) {
      const table = scope.table;
      const first = parts[0]!;
      if (name === "before" && scope.place === "row") return this.before(table, parts);
      if (name === "foot") return this.foot(table, first, parts.slice(1));
      if (name === "book") {
        const outside: Scope = { names: scope.names, place: "book", frames: scope.frames };
        if (parts.length === 1) return this.bookName(first.part, first.partSpan, outside);
        return this.bookPath(first.part, first.partSpan, parts.slice(1), outside);
      }
      const own = this.ownColumn(name, scope);
      if (own) return this.parts(own, parts);
    }
    return this.bookPath(name, span, parts, scope);
  }

  private before(table: TableName, parts: readonly PartNode[]): Code {
    const first = parts[0]!;
    if (!table.byName.has(first.part)) return this.host.trouble(first.partSpan, noColumn(table, first.part));
    const key = cellsKey(table.name, first.part);
    this.host.refer(key, "before");
    return this.parts(
      (env) => (env.row <= 0 ? gap("there is no row before the first") : env.values.cell(key, env.row - 1)),
      parts.slice(1),
    );
  }

  private foot(table: TableName, part: PartNode, rest: readonly PartNode[]): Code {
    if (!table.feet.has(part.part)) {
      const near = nearAmong(part.part, [...table.feet.keys()]);
      return this.host.trouble(part.partSpan, {
        code: "foot-unknown",
        says: `Table ${table.name} has no foot under \`${part.part}\`.`,
        ...(near !== undefined
          ? { help: `\`${near}\` is near.` }
          : table.byName.has(part.part) && {
              help: `Add \`foot ${writeName(part.part)} = …\` below its rows.`,
            }),
      });
    }
    const key = footKey(table.name, part.part);
    this.host.refer(key, "value");
    return this.parts((env) => env.values.value(key), rest);
  }

  private bookPath(name: string, span: Span, parts: readonly PartNode[], scope: Scope): Code {
    const table = scope.names.sets.has(name) ? undefined : scope.names.tables.get(name);
    if (!table) return this.parts(this.bookName(name, span, scope), parts);
    const first = parts[0]!;
    if (table.byName.has(first.part)) {
      const key = cellsKey(table.name, first.part);
      this.host.refer(key, "whole");
      this.host.refer(rowsKey(table.name), "whole");
      return this.parts((env) => env.values.column(key), parts.slice(1));
    }
    if (first.part === "foot" && parts.length > 1) return this.foot(table, parts[1]!, parts.slice(2));
    this.host.refer(rowsKey(table.name), "whole");
    const second = parts[1];
    if (!second) {
      this.referTable(table);
      return (env) =>
        at(env, first.partSpan, () => {
          const row = rowOf(env.values.rows(table.name), first.part, table);
          return record(
            table.columns.map((c) => [c.name, env.values.cell(cellsKey(table.name, c.name), row)] as const),
          );
        });
    }
    // A row that does not exist is told with what is near, and that may be a column.
    this.host.handOn(table);
    if (!table.byName.has(second.part)) {
      return this.host.trouble(second.partSpan, noColumn(table, second.part));
    }
    const key = cellsKey(table.name, second.part);
    this.host.refer(key, "whole");
    return this.parts(
      (env) =>
        at(env, first.partSpan, () =>
          env.values.cell(key, rowOf(env.values.rows(table.name), first.part, table)),
        ),
      parts.slice(2),
    );
  }

  private parts(code: Code, parts: readonly PartNode[]): Code {
    let result = code;
    for (const { part, partSpan } of parts) {
      const of = result;
      result = (env) => at(env, partSpan, () => partOf(of(env), part));
    }
    return result;
  }
}
