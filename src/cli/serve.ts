import { existsSync } from "node:fs";
import { join } from "node:path";
import { InvalidArgumentError } from "commander";
import { encodeLink } from "../exchange";
import { packageFolder } from "./package-folder";
import { linkTo, openSite, type Site, usualPort } from "./site";
import { readText } from "./source";
import { paint, type Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface ServeOptions {
  readonly port?: number;
}

/** `serve [BOOK]`: serves the page on this machine, with a copy of the book when one is named, until it is told to stop. */
export async function serve(
  book: string | undefined,
  options: ServeOptions,
  terminal: Terminal,
): Promise<number> {
  const source = book === undefined ? undefined : await readText(book, terminal);
  const page = join(packageFolder(), "dist", "app");
  if (!existsSync(join(page, "index.html"))) {
    throw new WrongCall("The page has not been built.", "Run npm run build in the folder of invacuo.");
  }
  const site = await openOnFreePort(page, options.port);
  const address = source ? linkTo(site.address, encodeLink(source.text).fragment) : site.address;
  await terminal.out.write(`${paint(terminal.out, "title", address)}\n`);
  await terminal.err.write("The page is served on this machine only. Stop with Ctrl+C.\n");
  await terminal.untilStopped();
  await site.close();
  return exit.well;
}

/** Reads the option `--port`. */
export function readPort(text: string): number {
  const port = Number(text);
  if (!/^\d+$/.test(text) || port > 65_535)
    throw new InvalidArgumentError("Give a whole number from 0 to 65535.");
  return port;
}

/** The usual port or, when somebody has it, any free one; a port that was asked for is taken or refused. */
async function openOnFreePort(folder: string, port: number | undefined): Promise<Site> {
  try {
    return await openSite(folder, port ?? usualPort);
  } catch (error) {
    const code = error instanceof Error && "code" in error ? error.code : undefined;
    if (code !== "EADDRINUSE" && code !== "EACCES") throw error;
    if (port === undefined) return openSite(folder, 0);
    throw code === "EADDRINUSE"
      ? new WrongCall(
          `Port ${port} is in use by another program.`,
          "Leave --port away, and a free one is chosen.",
        )
      : new WrongCall(`You may not use port ${port}.`, "Choose one above 1023.");
  }
}
