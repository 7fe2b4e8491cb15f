import type { Book } from "./report";

/** How far the work on a book has come. */
export interface Stage {
  /** How many values and cells are still to be worked out. */
  readonly left: number;
  /** The book of the newest text as far as it has come; what is missing is a gap, which says so in these words. */
  book(says: string, underway: Underway): Book;
}

/**
 * What is left of working a book out, where whoever opened or edited it did not wait for all of it (see `Searches`).
 * It can be gone on with, left for a while, or left for good; what it comes to is the same.
 */
export class Underway {
  private readonly work: Generator<Stage, Book, void>;
  private stage: Stage | undefined;
  private finished: Book | undefined;
  /** How many values and cells were left when it was first not waited for. */
  of = 0;

  constructor(work: Generator<Stage, Book, void>) {
    this.work = work;
  }

  /** How many of them have been worked out since. */
  get done(): number {
    return this.finished ? this.of : Math.max(0, this.of - (this.stage?.left ?? this.of));
  }

  /** Goes on, a piece at a time and at least for one, as long as it may. The whole book once that is done. */
  goOn(mayGoOn: () => boolean): Book | undefined {
    do {
      if (this.finished) return this.finished;
      const step = this.work.next();
      if (step.done) this.finished = step.value;
      else this.stage = step.value;
    } while (mayGoOn());
    this.of ||= this.stage?.left ?? 0;
    return this.finished;
  }

  /** The book as far as it has come, while it is being gone on with. */
  soFar(): Book {
    return this.told("is still being worked out");
  }

  /** The same when it is not being gone on with for now. */
  stopped(): Book {
    return this.told("was not worked out: the work was stopped");
  }

  private told(says: string): Book {
    return this.finished ?? this.stage!.book(says, this);
  }
}
