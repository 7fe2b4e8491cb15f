/**
 * Answers about a pair of units, remembered by identity: units are interned, and a column of 100,000 rows
 * asks the same question over and over.
 */
export class Pairs<Key, Answer> {
  private readonly rows = new Map<Key, Map<Key, Answer>>();

  // The pair asked last: a column asks for the same one row after row, and need not look it up.
  private lastA: Key | undefined;
  private lastB: Key | undefined;
  private last: Answer | undefined;

  constructor(private readonly work: (a: Key, b: Key) => Answer) {}

  get(a: Key, b: Key): Answer {
    if (a === this.lastA && b === this.lastB && this.last !== undefined) return this.last;
    const found = this.find(a, b);
    this.lastA = a;
    this.lastB = b;
    this.last = found;
    return found;
  }

  private find(a: Key, b: Key): Answer {
    let row = this.rows.get(a);
    if (row === undefined) {
      row = new Map();
      this.rows.set(a, row);
    }
    let found = row.get(b);
    if (found === undefined) {
      found = this.work(a, b);
      row.set(b, found);
    }
    return found;
  }
}
