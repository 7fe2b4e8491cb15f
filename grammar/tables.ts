import { fault, perhaps, quoted, spanOf } from "./messages";
import { type RowShape, shapeOf } from "./rows";
import type { Statement, StatementNode, SyntaxMessage, TableTree } from "./tree";

/**
 * Statements gathered into tables, in the order of the text: `table`, its heading, perhaps a ruler, its rows, then
 * columns and feet. What stands in the wrong place is told here, since a statement by itself cannot know.
 */

type OfType<T extends StatementNode["type"]> = Statement & {
  readonly node: Extract<StatementNode, { type: T }>;
};

/** A table while it is being gathered. */
export class GatheredTable implements TableTree {
  declare heading?: OfType<"heading">;
  readonly rows: OfType<"row">[] = [];
  readonly columns: OfType<"column">[] = [];
  readonly feet: OfType<"foot">[] = [];
  readonly broken: OfType<"unread">[] = [];
  readonly name: string;
  declare readonly title?: string;

  constructor(public statement: OfType<"table">) {
    this.name = statement.node.name;
    if (statement.node.title !== undefined) this.title = statement.node.title;
  }
}

/** What a row may be, from where it stands. */
export type RowRole =
  | { readonly type: "heading" }
  | { readonly type: "ruler" }
  | { readonly type: "row"; readonly shape: RowShape; readonly late: boolean };

const NO_SHAPE = shapeOf([]);

/** Follows the statements of a book and says, for each, what it belongs to. */
export class TableContext {
  /** The nearest table above; a broken one is there but gathers nothing. */
  private table: GatheredTable | undefined;
  private inTable = false;
  private shape: RowShape = NO_SHAPE;
  private expects: "heading" | "ruler" | "rows" | "nothing" = "nothing";
  /** First statement behind the rows, which ended them. */
  private ended: Statement | undefined;

  /** The role of a row; `dashes` says that it looks like a ruler. */
  roleOf(dashes: boolean): RowRole {
    if (this.expects === "heading") return { type: "heading" };
    if (dashes) return { type: "ruler" };
    return { type: "row", shape: this.shape, late: this.inTable && this.expects === "nothing" };
  }

  /** What is wrong with the place of a row, if anything. */
  rowTrouble(role: RowRole, length: number): SyntaxMessage | undefined {
    const span = spanOf(0, length);
    if (!this.inTable)
      return fault("row-homeless", span, "This row belongs to no table.", {
        help: "A table begins with `table name`, and its rows follow.",
        fixes: [perhaps(spanOf(0, 0), "table table_1\n", "Begin a table here")],
      });
    if (role.type === "ruler" && this.expects !== "ruler")
      return fault("ruler-place", span, "A row of dashes stands only directly under the heading.", {
        help: "Take it out.",
      });
    if (role.type === "row" && role.late) {
      const ended = this.ended!;
      const what = `${quoted(keywordOf(ended))} in line ${ended.line}`;
      return fault("row-late", span, `This row stands behind ${what}, so its values are not used.`, {
        help: "The rows of a table stand together directly under its heading. Move the row up.",
      });
    }
    return undefined;
  }

  /** What is wrong with the place of a column or foot, if anything. */
  columnTrouble(node: StatementNode, length: number): SyntaxMessage | undefined {
    if ((node.type !== "column" && node.type !== "foot") || this.inTable) return undefined;
    return fault("column-homeless", spanOf(0, length), `This \`${node.type}\` belongs to no table.`, {
      help: "It stands under the rows of its table. A value of its own begins with `set`.",
      fixes: node.type === "column" ? [perhaps(spanOf(0, "column".length), "set")] : [],
    });
  }

  /** Takes a statement in. A table that it begins, or belongs to, is handed back. */
  take(statement: Statement): GatheredTable | undefined {
    const { node } = statement;
    switch (node.type) {
      case "table":
        this.begin(new GatheredTable(statement as OfType<"table">));
        return this.table;
      case "heading":
        this.shape = shapeOf(node.columns);
        this.expects = "ruler";
        if (this.table !== undefined) this.table.heading = statement as OfType<"heading">;
        return this.table;
      case "ruler":
        if (this.expects === "ruler") this.expects = "rows";
        return this.table;
      case "row":
        if (!this.inTable) return undefined;
        if (this.expects === "ruler") this.expects = "rows";
        this.table?.rows.push(statement as OfType<"row">);
        return this.table;
      case "column":
      case "foot":
        this.endRows(statement);
        if (node.type === "column") this.table?.columns.push(statement as OfType<"column">);
        else this.table?.feet.push(statement as OfType<"foot">);
        return this.table;
      case "unread":
        if (node.keyword === "table") this.begin(undefined);
        else this.endRows(statement);
        if (node.name !== undefined && (node.defines === "column" || node.defines === "foot"))
          this.table?.broken.push(statement as OfType<"unread">);
        return undefined;
      default:
        this.endRows(statement);
        return undefined;
    }
  }

  private begin(table: GatheredTable | undefined): void {
    this.table = table;
    this.inTable = true;
    this.shape = NO_SHAPE;
    this.expects = "heading";
    this.ended = undefined;
  }

  private endRows(statement: Statement): void {
    if (this.expects !== "nothing") this.ended = statement;
    this.expects = "nothing";
  }
}

function keywordOf({ node }: Statement): string {
  return node.type === "unread" ? (node.keyword ?? "a statement that cannot be read") : node.type;
}

/** The fault of a table that has no heading. */
export function headingMissing(table: TableTree): SyntaxMessage | undefined {
  if (table.heading !== undefined) return undefined;
  const { nameSpan } = table.statement.node;
  return fault("heading-missing", nameSpan, `The table ${quoted(table.name)} has no heading.`, {
    help: "Under `table` stands a row that names the columns: `| item | volume (mL) |`.",
  });
}
