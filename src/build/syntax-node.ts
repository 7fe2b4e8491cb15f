/** A node of the syntax tree of a script, as the bundler's parser gives it. */
export interface SyntaxNode {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [key: string]: unknown;
}
