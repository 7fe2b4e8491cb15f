#!/usr/bin/env node
import { run } from "./program";
import { harmless, type Sink, type Terminal, wantsColour } from "./terminal";

/** The streams of this process, as the subcommands see them. */
function processTerminal(): Terminal {
  return {
    input: process.stdin,
    out: sink(process.stdout),
    err: sink(process.stderr),
    folder: process.cwd(),
    untilStopped: () =>
      new Promise((resolve) => {
        process.once("SIGINT", () => resolve());
        process.once("SIGTERM", () => resolve());
      }),
  };
}

function sink(stream: NodeJS.WriteStream): Sink {
  const isTerminal = stream.isTTY === true;
  // Whoever reads the other end of a pipe may stop early (`| head`); that is no mistake of anybody.
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0);
    process.exit(2);
  });
  return {
    write(text) {
      if (text === "") return Promise.resolve();
      return new Promise((resolve) => {
        if (stream.write(isTerminal ? harmless(text) : text)) resolve();
        else stream.once("drain", () => resolve());
      });
    },
    colour: wantsColour(isTerminal, process.env),
    ...(isTerminal ? { width: Math.max(40, stream.columns || 80) } : {}),
  };
}

process.exitCode = await run(process.argv.slice(2), processTerminal());
