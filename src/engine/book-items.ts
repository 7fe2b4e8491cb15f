import type { BookTree, Statement } from "../../grammar";
import { both, type Cost, NO_COST } from "./allowance";
import type { Calculation } from "./calculation";
import { tableItem } from "./grid";
import { makeItem, remark, type SinkItem, type Sources, sourceOf, valueItem } from "./items";
import { type Pieces, whole } from "./pieces";
import type { Item } from "./report";
import { SearchesMet, type Waits } from "./search";
import { isAsItWas, type Sink, sinksOf } from "./sinks";

/** What a check, chart or step came to, and what it took to make, which is counted again where it is taken over. */
interface MadeSink {
  readonly sink: Sink;
  readonly item: SinkItem;
  readonly cost: Cost;
  /** Whether it waits for the values, or for a search. */
  readonly waits: boolean;
}

/**
 * The items of a book, made from its values when they are first asked for. What looks at nothing new is taken over
 * from the book before. While the values are still being worked out, checks, charts and steps wait for all of them.
 */
export class BookItems {
  private readonly tree: BookTree;
  private readonly calculation: Calculation;
  readonly sinks: readonly Sink[];
  private made: readonly Item[] | undefined;
  private previous: BookItems | undefined;
  /** The checks, charts and steps by what is written in them. */
  private readonly madeOf = new Map<Statement["node"], MadeSink>();
  /** What those took in the book before that are taken over from it. */
  private kept = NO_COST;
  /** Searches in them that were put off. */
  putOff = 0;
  /** Whether making them ran into a limit. */
  private limited = false;

  constructor(tree: BookTree, calculation: Calculation, previous: BookItems | undefined) {
    this.tree = tree;
    this.calculation = calculation;
    this.sinks = sinksOf(tree.statements, calculation);
    this.previous = previous;
  }

  get all(): readonly Item[] {
    if (!this.made) whole(this.inPieces());
    return this.made!;
  }

  *inPieces(waits?: Waits): Pieces<void> {
    const before = this.previous?.limited ? undefined : this.previous;
    this.made = yield* this.make(before, waits);
    if (before && this.calculation.allowance.isStopped(this.kept))
      this.made = yield* this.make(undefined, waits);
    this.limited = this.calculation.allowance.isStopped();
    // The book before was kept only for what could be taken over from it.
    this.previous = undefined;
  }

  private *make(before: BookItems | undefined, waits: Waits | undefined): Pieces<Item[]> {
    const { tree, calculation } = this;
    this.kept = NO_COST;
    calculation.allowance.recount();
    calculation.searches = waits && new SearchesMet(waits, calculation.allowance);
    const { names } = calculation.plan;
    const sources: Sources = { text: tree.text, calculation };
    const sinkFor = new Map<Statement, Sink>(this.sinks.map((s) => [s.statement, s]));
    const tables = new Map<Statement, Item>();
    for (const table of names.tables.values()) tables.set(table.tree.statement, tableItem(sources, table));
    const items: Item[] = [];
    let step = 0;
    for (const statement of tree.statements) {
      const { node } = statement;
      switch (node.type) {
        case "book":
        case "about":
        case "part":
          items.push({ type: node.type, statement, ...remark(statement), text: node.text });
          break;
        case "set": {
          const set = names.sets.get(node.name);
          if (set?.statement === statement)
            items.push(valueItem(sources, statement, node.name, node.formula));
          else items.push(this.unread(statement, `\`${node.name}\` is defined twice.`));
          break;
        }
        case "define":
          items.push({
            type: "define",
            statement,
            ...remark(statement),
            name: node.name,
            parameters: node.parameters.map((p) => p.name),
            formula: sourceOf(tree.text, statement, node.formula.span),
            formulaSpan: {
              from: statement.at + node.formula.span.from,
              to: statement.at + node.formula.span.to,
            },
          });
          break;
        case "table": {
          const table = tables.get(statement);
          items.push(table ?? this.unread(statement, `\`${node.name}\` is defined twice.`));
          break;
        }
        case "check":
        case "chart":
        case "step":
          if (node.type === "step") step++;
          items.push(this.sinkItem(sources, sinkFor.get(statement)!, step, before));
          if (calculation.allowance.isPieceDone()) yield;
          break;
        case "unread": {
          if (
            node.defines === "set" &&
            node.name !== undefined &&
            names.sets.get(node.name)?.statement === statement
          ) {
            items.push(valueItem(sources, statement, node.name, undefined));
          } else items.push(this.unread(statement, ""));
          break;
        }
        case "row":
        case "column":
        case "foot":
        case "heading":
        case "ruler":
          if (!tree.tableOf.has(statement)) items.push(this.unread(statement, ""));
          break;
        default:
          break;
      }
    }
    this.putOff = calculation.putOff;
    calculation.searches = undefined;
    return items;
  }

  /** An item that looks at nothing new is taken over from the book before. */
  private sinkItem(sources: Sources, sink: Sink, step: number, before: BookItems | undefined): Item {
    const { calculation } = this;
    const then = before?.madeOf.get(sink.statement.node);
    if (then && !then.waits && isAsItWas(sink, then.sink, calculation, before!.calculation)) {
      this.kept = both(this.kept, then.cost);
      const { remark: _, ...rest } = then.item;
      const item = { ...rest, statement: sink.statement, ...remark(sink.statement) };
      this.madeOf.set(sink.statement.node, { ...then, sink, item });
      return item;
    }
    const { counted } = calculation.allowance;
    const { putOff } = calculation;
    const item = makeItem(sources, sink, step);
    const waits = !calculation.isWhole || calculation.putOff > putOff;
    this.madeOf.set(sink.statement.node, { sink, item, cost: calculation.allowance.since(counted), waits });
    return item;
  }

  private unread(statement: Statement, otherwise: string): Item {
    const message = statement.messages.find((m) => m.severity === "fault")?.says ?? otherwise;
    return {
      type: "unread",
      statement,
      text: this.tree.text.slice(statement.at, statement.at + statement.length),
      message: message || "This line cannot be read.",
    };
  }
}
