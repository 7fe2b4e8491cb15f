import type { Formula, Span } from "../../grammar";
import { Trouble } from "../quantity";
import type { ListValue, Value } from "../vocabulary/value";
import { chosen } from "./choosing";
import type { Compilation, Scope } from "./compilation";
import type { Code } from "./environment";
import { describe } from "./fault";
import { cellsKey, rowsKey } from "./names";
import { at } from "./places";
import { looksAtUnknown, originTable } from "./syntax";

/** Code of a `where`, whose condition is worked out for every row of the table that the list comes from. */
export function whereCode(
  of: Formula,
  condition: Formula,
  span: Span,
  scope: Scope,
  into: Compilation,
): Code {
  const source = into.formula(of, scope);
  const table = originTable(of, scope, into.followed);
  const rowScope: Scope | undefined = table && {
    names: scope.names,
    table,
    place: "row",
    frames: scope.frames,
    ...(scope.given && { given: scope.given }),
    outside: scope.frames.length,
  };
  const sizeBefore = into.size;
  const troublesBefore = into.troubles.length;
  const test = into.formula(condition, rowScope ?? scope);
  // Which columns there are is known only where the definition around it is called.
  if (!table && looksAtUnknown(of, scope)) into.troubles.length = troublesBefore;
  // And an environment for each row.
  const testParts = into.size - sizeBefore + 2;
  let looksAtRows = false;
  if (table) {
    // The condition is worked out for every row, so it looks at whole columns.
    into.refer(rowsKey(table.name), "whole");
    for (const column of table.columns) {
      const looks = into.references.get(cellsKey(table.name, column.name));
      if (!looks || !(looks.has("row") || looks.has("before"))) continue;
      looks.add("whole");
      looksAtRows = true;
    }
  }
  return (env) =>
    at(env, span, () => {
      const values = source(env);
      if (values.type === "gap" || values.type === "fault") return values;
      if (values.type !== "list") {
        throw new Trouble({
          code: "where-list",
          says: `\`where\` chooses from a list; it meets ${describe(values)}.`,
        });
      }
      let tests: readonly Value[];
      if (table && values.origin?.table === table.name) {
        const { rows } = values.origin;
        env.values.spend(rows.length * testParts);
        const first = rows.length > 0 ? test({ ...env, row: rows[0]! }) : undefined;
        const beside = first?.type === "list" ? besideRows(first, table.name, rows) : undefined;
        tests = beside ?? rows.map((row, i) => (i === 0 ? first! : test({ ...env, row })));
      } else {
        // The condition looks at rows of a table, and these entries turned out to be none of them.
        if (looksAtRows && scope.table !== table) throw noRows();
        const answer = test(env);
        if (answer.type !== "list") {
          if (answer.type === "fault" || answer.type === "gap") return answer;
          throw noRows();
        }
        if (answer.entries.length !== values.entries.length) {
          throw new Trouble({
            code: "list-lengths",
            says: `These lists do not match: ${values.entries.length} entries and ${answer.entries.length}.`,
          });
        }
        tests = answer.entries;
      }
      return chosen(values, tests);
    });
}

/** The entries of a whole column of true and false, such as `t.volume > 1 L` makes, that stand beside some rows of its table. */
function besideRows(answer: ListValue, table: string, rows: readonly number[]): Value[] | undefined {
  if (answer.origin?.table !== table) return undefined;
  const byRow = new Map(answer.origin.rows.map((row, i) => [row, answer.entries[i]!]));
  return rows.every((row) => byRow.has(row)) ? rows.map((row) => byRow.get(row)!) : undefined;
}

const noRows = (): Trouble =>
  new Trouble({
    code: "where-list",
    says: "This list comes from no table: `where` wants a list of true and false beside it.",
  });
