import { type CallNode, type Formula, nearAmong, type Span, writeName } from "../../grammar";
import { Trouble } from "../quantity";
import { vocabulary } from "../vocabulary";
import { isAway } from "../vocabulary/arrival";
import { type Declaration, isPhysics } from "../vocabulary/declaration";
import type { Fault, FaultPlace, Value } from "../vocabulary/value";
import { ArgumentTrouble } from "./arguments";
import { bind, callableOf, Misplaced } from "./binding";
import { ColumnList, columnTotal } from "./blocks";
import { callPhysics, callValue } from "./call";
import type { Compilation, Scope } from "./compilation";
import { circleTrouble } from "./definition-circles";
import { CALLED, type Code, type Environment } from "./environment";
import { faultFrom } from "./fault";
import { defaultOf } from "./literals";
import { localCode } from "./locals";
import { type DefineName, functionNames } from "./names";
import { at, placeIn } from "./places";
import { depthOf, givenBy } from "./syntax";

/** How deep the definitions of a formula may be nested once they are written out: the stack of a browser is small. */
const DEEPEST_WRITTEN = 600;
/** Most parts that a formula may have once its definitions are written out. */
const EXPANSION_LIMIT = 10_000;
/** The same for all formulas of a book together. */
export const BOOK_EXPANSION_LIMIT = 300_000;

/** Code of a call, of a function that is given or of one of the writer's own, which is written out. */
export function callCode(node: CallNode, scope: Scope, into: Compilation): Code {
  const define = scope.names.defines.get(node.name);
  if (define) return definedCode(node, define, scope, into);
  const declaration = vocabulary.get(node.name);
  if (!declaration && isAway(node.name)) {
    return into.trouble(node.nameSpan, {
      code: "function-away",
      says: `\`${node.name}\` has not been fetched yet.`,
      help: "It comes as soon as the network lets it, and the book is then worked out again.",
    });
  }
  if (!declaration) {
    const near = nearAmong(node.name, functionNames(scope.names, vocabulary.keys()));
    const isValue =
      scope.names.sets.has(node.name) ||
      scope.table?.byName.has(node.name) ||
      localCode(node.name, scope) !== undefined;
    return into.trouble(node.nameSpan, {
      code: isValue ? "not-a-function" : "function-unknown",
      says: isValue
        ? `\`${node.name}\` is a value, not a function.`
        : `There is no function called \`${node.name}\`.`,
      ...(isValue
        ? { help: `To multiply, write \`${node.name} * (…)\`.` }
        : near !== undefined
          ? { help: `\`${near}\` is near.`, rewrite: near }
          : { help: `A function of your own begins with \`define ${writeName(node.name)}(x) = …\`.` }),
    });
  }
  into.functions.add(declaration.name);
  let bound: (Formula | undefined)[];
  try {
    bound = bind(callableOf(declaration), node);
  } catch (error) {
    if (error instanceof Trouble) return into.trouble(spanOfBinding(error, node), error);
    throw error;
  }
  const codes = bound.map((formula, i) =>
    formula ? into.formula(formula, scope) : defaultOf(declaration, i),
  );
  const { span } = node;
  // What is wrong with one argument stands at it.
  const spanOf = (trouble: Trouble): Span => {
    if (!(trouble instanceof ArgumentTrouble)) return span;
    return bound[declaration.parameters.findIndex((p) => p.name === trouble.parameter)]?.span ?? span;
  };
  const called = calling(declaration, span);
  return (env) => {
    const args = codes.map((c) => c?.(env));
    return at(
      env,
      span,
      () => {
        env.values.count();
        return called(env, args);
      },
      spanOf,
    );
  };
}

/** What a function makes of its arguments. */
function calling(
  declaration: Declaration,
  span: Span,
): (env: Environment, args: readonly (Value | undefined)[]) => Value {
  if (isPhysics(declaration))
    return (env, args) => {
      spendOnLists(env, args);
      const identity = `${env.owner.pathOf(env.row)}${env.route}:${span.from}`;
      return callPhysics(
        declaration,
        args,
        identity,
        env.values.draw,
        (work) => env.values.spend(work),
        env.values.entries?.(identity),
      );
    };
  if (declaration.name === "sum")
    return (_, args) => {
      const [values] = args;
      return (values instanceof ColumnList && columnTotal(values.store)) || callValue(declaration, args);
    };
  return (env, args) => {
    if (!declaration.looksUp) spendOnLists(env, args);
    return callValue(declaration, args);
  };
}

function definedCode(node: CallNode, define: DefineName, scope: Scope, into: Compilation): Code {
  const { name } = define;
  if (!define.formula) {
    return (env) =>
      faultFrom(
        { code: "unread", says: `The definition of \`${name}\` cannot be read.` },
        placeIn(env, node.nameSpan),
      );
  }
  if (into.defining.includes(name)) {
    const members = into.defining.slice(into.defining.indexOf(name));
    return into.trouble(node.nameSpan, circleTrouble(members));
  }
  const outside = into.depth;
  const depth = outside + depthOf(define.formula);
  if (depth > DEEPEST_WRITTEN) {
    return into.trouble(node.span, {
      code: "define-deep",
      says: `This formula is nested more than ${DEEPEST_WRITTEN} deep once its definitions are written out.`,
      help: "Give parts of it names of their own with `set`.",
    });
  }
  if (into.size > EXPANSION_LIMIT) {
    return into.trouble(node.span, {
      code: "define-limit",
      says: `This formula has more than 10,000 parts once its definitions are written out.`,
      help: "Give parts of it names of their own with `set`.",
    });
  }
  if (into.expansion.parts > BOOK_EXPANSION_LIMIT) {
    into.limited = true;
    return into.trouble(node.span, {
      code: "defines-limit",
      says: "This book has more than 300,000 parts once its definitions are written out.",
      help: "Write the shared part of the definitions as a `set` or a column.",
    });
  }
  let bound: (Formula | undefined)[];
  try {
    bound = bind(
      { name, parameters: define.parameters.map((p) => ({ name: p, optional: false, labelOnly: false })) },
      node,
    );
  } catch (error) {
    if (error instanceof Trouble) return into.trouble(spanOfBinding(error, node), error);
    throw error;
  }
  const codes = bound.map((formula) => into.formula(formula!, scope));
  into.definitions.add(define.formula);
  into.defining.push(name);
  into.depth = depth;
  const spreadsOutside = into.spreads;
  into.spreads = 0;
  const body = into.formula(define.formula, {
    names: scope.names,
    place: "book",
    frames: [define.parameters],
    given: new Map(define.parameters.map((p, i) => [p, givenBy(bound[i]!, scope, into.followed)])),
  });
  into.spreads = spreadsOutside;
  into.defining.pop();
  into.depth = outside;
  const { span } = node;
  return (env) => {
    const values = codes.map((c) => c(env));
    return at(env, span, () => {
      env.values.count();
      const result = body({
        values: env.values,
        owner: env.owner,
        row: env.row,
        locals: { values, outer: undefined },
        route: `${env.route}${CALLED}${name}${CALLED}${span.from}`,
      });
      // A place inside the definition says nothing to the reader of the caller: the call is the place.
      // What was wrong in an argument already keeps the place that it has there.
      const place = result.type === "fault" ? result.place : undefined;
      return place?.path === env.owner.pathOf(env.row) && !values.some((v) => stemsFrom(v, place))
        ? { ...(result as Fault), place: { ...placeIn(env, span), inside: place.inside ?? name } }
        : result;
    });
  };
}

/** A function walks through the lists that it is given. */
function spendOnLists(env: Environment, args: readonly (Value | undefined)[]): void {
  for (const value of args) {
    if (value?.type !== "list") continue;
    env.values.spend(value instanceof ColumnList ? value.store.length : value.entries.length);
  }
}

/** What is wrong with one argument stands at it; what is missing, at the call. */
function spanOfBinding(trouble: Trouble, call: CallNode): Span {
  return trouble instanceof Misplaced ? trouble.span : call.span;
}

/** Whether a fault with this place is among what was given. */
function stemsFrom(given: Value, place: FaultPlace): boolean {
  if (given.type === "fault") return given.place === place;
  if (given.type === "list") return given.entries.some((e) => stemsFrom(e, place));
  if (given.type === "record") return [...given.parts.values()].some((p) => stemsFrom(p, place));
  return false;
}
