import { decodeLink, encodeLink } from "../exchange";
import { linkTo, usualPort } from "./site";
import { readText } from "./source";
import type { Terminal } from "./terminal";
import { exit } from "./wrong-call";

export interface LinkOptions {
  readonly page?: string;
  readonly read?: boolean;
}

/** `link BOOK`: the whole book in an address; with `--read` the book out of one. */
export async function link(book: string, options: LinkOptions, terminal: Terminal): Promise<number> {
  if (options.read) {
    const address = book === "-" ? (await readText("-", terminal)).text.trim() : book;
    await terminal.out.write(decodeLink(address.slice(address.indexOf("#") + 1)));
    return exit.well;
  }
  const source = await readText(book, terminal);
  const { fragment, length, advice } = encodeLink(source.text);
  await terminal.out.write(`${linkTo(options.page ?? `http://127.0.0.1:${usualPort}/`, fragment)}\n`);
  await terminal.err.write(`The link holds the whole book in ${length} characters.\n`);
  if (advice) await terminal.err.write(`${advice}\n`);
  return exit.well;
}
