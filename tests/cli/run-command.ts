import { run } from "../../src/cli/program";
import type { Sink, Terminal } from "../../src/cli/terminal";

/** What a run of the command left behind. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export interface Setting {
  /** Standard input. */
  readonly input?: string | Uint8Array;
  readonly folder?: string;
  readonly colour?: boolean;
  readonly width?: number;
  /** Called with everything that was written to standard output so far. */
  readonly onOut?: (text: string) => void;
  /** Ends a running server; at once when it is left out. */
  readonly stopped?: Promise<void>;
}

/** Runs the command in this process, with streams of its own. */
export async function runCommand(words: readonly string[], setting: Setting = {}): Promise<Ran> {
  const told = { out: "", err: "" };
  const sink = (name: "out" | "err"): Sink => ({
    write(text) {
      told[name] += text;
      if (name === "out") setting.onOut?.(told.out);
      return Promise.resolve();
    },
    colour: setting.colour ?? false,
    ...(setting.width === undefined ? {} : { width: setting.width }),
  });
  const terminal: Terminal = {
    input: piecesOf(setting.input ?? ""),
    out: sink("out"),
    err: sink("err"),
    folder: setting.folder ?? process.cwd(),
    untilStopped: () => setting.stopped ?? Promise.resolve(),
  };
  const code = await run(words, terminal);
  return { code, ...told };
}

/** Input in small pieces, as a pipe brings it: a sign of several bytes may be cut in the middle. */
async function* piecesOf(input: string | Uint8Array): AsyncGenerator<Uint8Array> {
  const bytes = typeof input === "string" ? new TextEncoder().encode(input) : input;
  for (let at = 0; at < bytes.length; at += 7_919) yield bytes.slice(at, at + 7_919);
}
