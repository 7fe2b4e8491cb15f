/**
 * A bare operator-precedence parser by hand, what the reading of a formula is measured against: the same
 * formulas, no positions, no messages, no recovery.
 */
export type Tree =
  | { readonly type: "number"; readonly digits: string; readonly unit: string }
  | { readonly type: "name"; readonly name: string }
  | { readonly type: "part"; readonly of: Tree; readonly part: string }
  | { readonly type: "call"; readonly name: string; readonly arguments: readonly Tree[] }
  | { readonly type: "negate"; readonly of: Tree }
  | { readonly type: "binary"; readonly operator: string; readonly left: Tree; readonly right: Tree };

const BINDS: ReadonlyMap<string, number> = new Map([
  ["+", 1],
  ["-", 1],
  ["*", 2],
  ["/", 2],
  ["^", 4],
]);

let text = "";
let at = 0;

export function parsePratt(formula: string): Tree {
  text = formula;
  at = 0;
  const tree = expression(0);
  blanks();
  if (at < text.length) throw new Error(`cannot read ${text.slice(at)}`);
  return tree;
}

function blanks(): void {
  while (text.charCodeAt(at) === 32) at++;
}

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isLetter = (code: number): boolean =>
  (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || code === 95;

function word(): string {
  const from = at;
  while (isLetter(text.charCodeAt(at)) || isDigit(text.charCodeAt(at))) at++;
  return text.slice(from, at);
}

function expression(least: number): Tree {
  let left = operand();
  for (;;) {
    blanks();
    const operator = text[at]!;
    const binds = BINDS.get(operator);
    if (binds === undefined || binds < least) return left;
    at++;
    left = { type: "binary", operator, left, right: expression(operator === "^" ? binds : binds + 1) };
  }
}

function operand(): Tree {
  blanks();
  const code = text.charCodeAt(at);
  if (code === 45) {
    at++;
    return { type: "negate", of: expression(3) };
  }
  if (code === 40) {
    at++;
    const tree = expression(0);
    blanks();
    at++;
    return tree;
  }
  if (isDigit(code)) return number();
  const name = word();
  if (text.charCodeAt(at) === 40) {
    at++;
    const list: Tree[] = [expression(0)];
    blanks();
    while (text.charCodeAt(at) === 44) {
      at++;
      list.push(expression(0));
      blanks();
    }
    at++;
    return { type: "call", name, arguments: list };
  }
  let tree: Tree = { type: "name", name };
  while (text.charCodeAt(at) === 46) {
    at++;
    tree = { type: "part", of: tree, part: word() };
  }
  return tree;
}

function number(): Tree {
  const from = at;
  while (isDigit(text.charCodeAt(at)) || text.charCodeAt(at) === 46) at++;
  const digits = text.slice(from, at);
  const start = at;
  blanks();
  const unitAt = at;
  while (isLetter(text.charCodeAt(at)) || text.charCodeAt(at) === 37) at++;
  if (at === unitAt) at = start;
  return { type: "number", digits, unit: text.slice(unitAt, at) };
}
