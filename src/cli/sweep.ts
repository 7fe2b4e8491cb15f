import { existsSync } from "node:fs";
import { open, stat } from "node:fs/promises";
import { availableParallelism } from "node:os";
import { resolve } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { InvalidArgumentError } from "commander";
import { openBook, type Sweep } from "../engine";
import { tellMessages } from "./calc";
import { asWrongCall, readText } from "./source";
import { type SweepPoint, sweepPoint } from "./sweep-point";
import type { WorkerTask } from "./sweep-worker";
import { bullet, type Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface SweepOptions {
  readonly vary?: readonly string[];
  readonly show?: readonly string[];
  readonly shard?: Shard;
  readonly into?: string;
  readonly workers?: number;
  readonly json?: boolean;
}

/** One part of a sweep that is spread over machines: the `part`th of `of`, counted from 1. */
export interface Shard {
  readonly part: number;
  readonly of: number;
}

/** Points that a worker is given at once, and how far ahead of the writing they may be worked out. */
const BATCH = 64;
const AHEAD = 4;
/** Below this many points a second thread would start later than the first one is done. */
const FEW = 256;
const PROGRESS_EVERY = 2000;

/** Reads the option `--shard`: `2/5`. */
export function readShard(text: string): Shard {
  const match = /^(\d+)\/(\d+)$/.exec(text);
  const part = Number(match?.[1]);
  const of = Number(match?.[2]);
  if (!match || part < 1 || of < 1 || part > of) {
    throw new InvalidArgumentError("Write the part and the count of parts, such as 2/5.");
  }
  return { part, of };
}

/** Reads the option `--workers`: a whole number from 1 to 256. */
export function readWorkers(text: string): number {
  const count = Number(text);
  if (!/^\d+$/.test(text) || count < 1 || count > 256)
    throw new InvalidArgumentError("Give a whole number from 1 to 256.");
  return count;
}

/**
 * `sweep BOOK --vary … --show …`: a table of outcomes over a grid of inputs, worked out in as many threads as
 * the machine has cores and printed in order. With `--into FILE` the points go as lines of JSON into a file,
 * and a sweep that broke off goes on where the file ends.
 */
export async function sweepBook(name: string, options: SweepOptions, terminal: Terminal): Promise<number> {
  const { vary = [], show = [] } = options;
  const source = await readText(name, terminal);
  const book = openBook(source.text);
  let code: number = exit.well;
  if (book.messages.some((m) => m.severity === "fault")) code = await tellMessages(book, source, terminal);
  const sweep = book.sweep(vary, show);
  const shard = options.shard ?? { part: 1, of: 1 };
  const into =
    options.into === undefined
      ? undefined
      : await Ledger.open(options.into, { vary, show, shard, text: source.text }, terminal);
  const total = Math.max(0, Math.ceil((sweep.count - (shard.part - 1)) / shard.of));
  const points = (function* () {
    for (let i = into?.done ?? 0; i < total; i++) yield shard.part - 1 + i * shard.of;
  })();
  const progress = new Progress(total, into?.done ?? 0, terminal);
  const out = into ?? new Printing(sweep, options.json === true, terminal);
  let faults = 0;
  let firstFault: SweepPoint | undefined;
  try {
    await out.begin();
    const workers = workerCount(options.workers, total);
    for await (const line of linesOf(sweep, points, workers, { text: source.text, vary, show })) {
      if (line.includes('"state":"fault"')) {
        faults++;
        firstFault ??= JSON.parse(line) as SweepPoint;
      }
      await out.write(line);
      await progress.step();
    }
  } finally {
    await out.end();
  }
  await progress.end(faults);
  if (firstFault !== undefined) await tellFault(firstFault, terminal);
  return Math.max(code, faults > 0 ? exit.faulty : exit.well);
}

/** Why the first point with a fault has one: a table of the word alone would leave the reason to be guessed. */
async function tellFault(point: SweepPoint, terminal: Terminal): Promise<void> {
  const where = Object.entries(point.inputs).map(([name, input]) => `${name} ${input.text}`);
  const fault = [...Object.values(point.inputs), ...point.outcomes].find((told) => told.state === "fault");
  const { err } = terminal;
  await err.write(
    `${bullet("fault: ", `At ${where.join(", ")}: ${fault?.message ?? ""}`, err.width ?? 100).join("\n")}\n`,
  );
}

function workerCount(wanted: number | undefined, points: number): number {
  if (wanted !== undefined) return wanted;
  return points < FEW ? 1 : availableParallelism();
}

const workerFile = fileURLToPath(new URL("./sweep-worker.js", import.meta.url));

/** The lines of the points, in their order, with a bounded number of them in memory. */
async function* linesOf(
  sweep: Sweep,
  points: Iterator<number>,
  workers: number,
  task: WorkerTask,
): AsyncGenerator<string> {
  // In the sources there is no built worker beside this file; one thread gives the same lines.
  if (workers === 1 || !existsSync(workerFile)) {
    for (let next = points.next(); !next.done; next = points.next())
      yield JSON.stringify(sweepPoint(sweep, next.value));
    return;
  }
  const hands: Hand[] = [];
  for (let i = 0; i < workers; i++) {
    hands.push(new Hand(task));
  }
  const waiting: Promise<readonly string[]>[] = [];
  let turn = 0;
  try {
    let more = true;
    while (more || waiting.length > 0) {
      while (more && waiting.length < workers * AHEAD) {
        const batch: number[] = [];
        for (let next = points.next(); ; next = points.next()) {
          if (next.done) {
            more = false;
            break;
          }
          batch.push(next.value);
          if (batch.length === BATCH) break;
        }
        if (batch.length > 0) waiting.push(hands[turn++ % workers]!.work(batch));
      }
      const first = waiting.shift();
      if (first) yield* await first;
    }
  } finally {
    await Promise.all(hands.map((h) => h.stop()));
  }
}

/** A worker thread and what it was asked, answered in the order of asking. */
class Hand {
  private readonly worker: Worker;
  private readonly asked: { resolve(lines: readonly string[]): void; reject(error: unknown): void }[] = [];

  constructor(task: WorkerTask) {
    this.worker = new Worker(workerFile, { workerData: task });
    this.worker.on("message", (lines: readonly string[]) => this.asked.shift()?.resolve(lines));
    this.worker.on("error", (error) => {
      for (const one of this.asked.splice(0)) one.reject(error);
    });
  }

  work(points: readonly number[]): Promise<readonly string[]> {
    const answer = new Promise<readonly string[]>((resolve, reject) => this.asked.push({ resolve, reject }));
    // A batch that fails while an earlier one is waited for is told when its turn comes.
    answer.catch(() => undefined);
    this.worker.postMessage(points);
    return answer;
  }

  async stop(): Promise<void> {
    await this.worker.terminate();
  }
}

/** Prints the points: lines of JSON, or a table whose columns are as wide as their headings need. */
class Printing {
  private readonly sweep: Sweep;
  private readonly json: boolean;
  private readonly terminal: Terminal;
  private readonly widths: number[] = [];

  constructor(sweep: Sweep, json: boolean, terminal: Terminal) {
    this.sweep = sweep;
    this.json = json;
    this.terminal = terminal;
  }

  async begin(): Promise<void> {
    if (this.json || this.sweep.count === 0) return;
    // The last point of a range is usually its widest; two spaces part what is wider still.
    const last = sweepPoint(this.sweep, this.sweep.count - 1);
    const heads = [...this.sweep.names, ...this.sweep.shows];
    this.widths.push(...cells(last).map((cell, i) => Math.max(cell.length, heads[i]!.length)));
    await this.line(heads);
  }

  async write(line: string): Promise<void> {
    if (this.json) await this.terminal.out.write(`${line}\n`);
    else await this.line(cells(JSON.parse(line) as SweepPoint));
  }

  private line(row: readonly string[]): Promise<void> {
    return this.terminal.out.write(`${row.map((cell, i) => cell.padStart(this.widths[i]!)).join("  ")}\n`);
  }

  end(): Promise<void> {
    return Promise.resolve();
  }
}

function cells(point: SweepPoint): string[] {
  const tell = (told: { state: string; text: string }): string =>
    told.state === "ok" ? told.text : told.state;
  return [...Object.values(point.inputs).map(tell), ...point.outcomes.map(tell)];
}

interface Header {
  readonly sweep: 1;
  readonly vary: readonly string[];
  readonly show: readonly string[];
  readonly shard: string;
  /** FNV-1a of the book's text, so that a sweep never goes on with another book. */
  readonly book: string;
}

/** A file of lines of JSON that a sweep grows: a line that says which sweep it is, then a line for each point. */
class Ledger {
  readonly done: number;
  private readonly name: string;
  private readonly handle: Awaited<ReturnType<typeof open>>;
  private readonly header: string | undefined;

  private constructor(
    name: string,
    handle: Awaited<ReturnType<typeof open>>,
    done: number,
    header: string | undefined,
  ) {
    this.name = name;
    this.handle = handle;
    this.done = done;
    this.header = header;
  }

  static async open(
    name: string,
    what: { vary: readonly string[]; show: readonly string[]; shard: Shard; text: string },
    terminal: Terminal,
  ): Promise<Ledger> {
    const path = resolve(terminal.folder, name);
    const header: Header = {
      sweep: 1,
      vary: what.vary,
      show: what.show,
      shard: `${what.shard.part}/${what.shard.of}`,
      book: checksum(what.text),
    };
    const written = JSON.stringify(header);
    try {
      const handle = await open(path, "a+");
      const { size } = await stat(path);
      if (size === 0) return new Ledger(name, handle, 0, written);
      let first: string | undefined;
      let done = -1;
      let length = 0;
      const reader = createInterface({
        input: handle.createReadStream({ start: 0, autoClose: false }),
        crlfDelay: Number.POSITIVE_INFINITY,
      });
      for await (const line of reader) {
        const end = length + Buffer.byteLength(line) + 1;
        // The last line may have been cut off in the middle of writing.
        if (end > size || !isWhole(line)) break;
        first ??= line;
        length = end;
        done++;
      }
      if (first === undefined && size > 0) {
        await handle.close();
        throw new WrongCall(`${name} is not the file of a sweep.`, "Name a new file, or remove this one.");
      }
      if (first !== written) {
        await handle.close();
        throw new WrongCall(
          `${name} holds another sweep: other values, other formulas or another text of the book.`,
          "Name a new file.",
        );
      }
      await handle.truncate(length);
      return new Ledger(name, handle, done, undefined);
    } catch (error) {
      throw asWrongCall(error, name);
    }
  }

  async begin(): Promise<void> {
    if (this.header !== undefined) await this.write(this.header);
  }

  async write(line: string): Promise<void> {
    try {
      await this.handle.write(`${line}\n`);
    } catch (error) {
      throw asWrongCall(error, this.name);
    }
  }

  async end(): Promise<void> {
    await this.handle.close();
  }
}

function isWhole(line: string): boolean {
  try {
    return typeof JSON.parse(line) === "object";
  } catch {
    return false;
  }
}

function checksum(text: string): string {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash.toString(16).padStart(8, "0");
}

/** Tells on standard error how far a sweep is, every two seconds at most. */
class Progress {
  private readonly total: number;
  private readonly terminal: Terminal;
  private done: number;
  private told = Date.now();

  constructor(total: number, done: number, terminal: Terminal) {
    this.total = total;
    this.done = done;
    this.terminal = terminal;
  }

  async step(): Promise<void> {
    this.done++;
    const now = Date.now();
    if (now - this.told < PROGRESS_EVERY) return;
    this.told = now;
    await this.terminal.err.write(`${this.done} of ${this.total} points\n`);
  }

  async end(faults: number): Promise<void> {
    const missed = faults === 0 ? "" : `, ${faults} with a fault`;
    await this.terminal.err.write(`${this.done} of ${this.total} points${missed}.\n`);
  }
}
