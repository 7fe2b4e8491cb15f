import { Command, CommanderError } from "commander";
import manifest from "../../package.json";
import { Trouble } from "../quantity";
import { ask } from "./ask";
import { calc } from "./calc";
import { card } from "./card";
import { compare } from "./compare";
import { readDigits } from "./digits";
import { exportBook } from "./export";
import { glossary } from "./glossary";
import { importTables } from "./import";
import { link } from "./link";
import { merge } from "./merge";
import { readPort, serve } from "./serve";
import { usualPort } from "./site";
import { readShard, readWorkers, sweepBook } from "./sweep";
import { paint, type Terminal } from "./terminal";
import { tidyBook } from "./tidy";
import { readTrials, why } from "./why";
import { exit, WrongCall } from "./wrong-call";

/**
 * Runs the command with its arguments. Returns the exit code: 0 when all is well, 1 when the book has
 * faults or unmet checks, 2 when the command was called wrongly. Never throws.
 */
export async function run(words: readonly string[], terminal: Terminal): Promise<number> {
  let code: number = exit.well;
  const program = commands(terminal, (given) => {
    code = given;
  });
  try {
    await program.parseAsync(guardFormula(words), { from: "user" });
    return code;
  } catch (error) {
    return tellError(error, terminal);
  }
}

function commands(terminal: Terminal, end: (code: number) => void): Command {
  const program = new Command("invacuo")
    .description("Formulation workbooks for small kitchens and distilleries with a bench vacuum still.")
    .version(manifest.version, "-V, --version", "print the version")
    .helpOption("-h, --help", "print how it is called")
    .helpCommand("help [command]", "print how a command is called")
    .exitOverride()
    .configureOutput({
      writeOut: (text) => void terminal.out.write(text),
      writeErr: (text) => void terminal.err.write(text),
      getOutHelpWidth: () => terminal.out.width ?? 100,
      getErrHelpWidth: () => terminal.err.width ?? 100,
      getOutHasColors: () => terminal.out.colour,
      getErrHasColors: () => terminal.err.colour,
      outputError: (text, write) =>
        write(text.replace(/^error: /, `${paint(terminal.err, "fault", "wrong call")}: `)),
    })
    .showSuggestionAfterError()
    .addHelpText(
      "after",
      [
        "",
        "BOOK is a file, or - for standard input. Results go to standard output, messages to standard error.",
        "The exit code is 0 when all is well, 1 when the book has faults or unmet checks, 2 when the call is wrong.",
      ].join("\n"),
    );

  const json = ["--json", "print JSON, for programs"] as const;
  const digits = ["--digits <n>", "significant digits of numbers that are not exact, 1 to 12"] as const;

  program
    .command("calc <book>")
    .description("work a book out: values, tables, checks, steps")
    .option(...json)
    .option(...digits, readDigits)
    .action(async (book, options) => end(await calc(book, options, terminal)));

  program
    .command("ask [formula]")
    .description("work one formula out")
    .option(...json)
    .option("--lines", "read formulas from standard input, one a line")
    .option("--book <book>", "let the formula use the names of a book")
    .option(...digits, readDigits)
    .action(async (formula, options) => end(await ask(formula, options, terminal)));

  program
    .command("why <book> <name>")
    .description("show how a value came about")
    .option(
      "--trials <n>",
      "check the uncertainty against a run of random trials, the same every time",
      readTrials,
    )
    .option(...digits, readDigits)
    .action(async (book, name, options) => end(await why(book, name, options, terminal)));

  program
    .command("card <book>")
    .description("print the bench card")
    .option("--html", "as a page, set for one sheet of paper")
    .option(...digits, readDigits)
    .action(async (book, options) => end(await card(book, options, terminal)));

  program
    .command("export <book> <out>")
    .description("write a spreadsheet with live formulas (.xlsx, .ods) or .csv")
    .option("--report", "print how much goes out live, and why the rest does not")
    .option("--table <name>", "the table to write, for .csv")
    .action(async (book, out, options) => end(await exportBook(book, out, options, terminal)));

  program
    .command("import <file>")
    .description("print the tables of a spreadsheet or CSV file as tables of a book")
    .option("--table <name>", "only one of them")
    .option("--answer <question=choice...>", "answer what the file leaves open")
    .action(async (file, options) => end(await importTables(file, options, terminal)));

  program
    .command("compare <a> <b>")
    .description("show what differs between two books, formulas and values")
    .option(...json)
    .option(...digits, readDigits)
    .action(async (a, b, options) => end(await compare(a, b, options, terminal)));

  program
    .command("merge <base> <mine> <theirs>")
    .description("bring two versions of a book together")
    .option("--out <file>", "write the result into a file")
    .option("--name <name>", "what messages call the result")
    .action(async (base, mine, theirs, options) => end(await merge([base, mine, theirs], options, terminal)));

  program
    .command("link <book>")
    .description("put a whole book in a link")
    .option("--page <address>", "where the page is served")
    .option("--read", "the other way: print the book that a link holds")
    .action(async (book, options) => end(await link(book, options, terminal)));

  program
    .command("tidy <book>")
    .description("put the text of a book in good order")
    .option("--check", "only say whether it is")
    .option("--write", "write it back into the file")
    .action(async (book, options) => end(await tidyBook(book, options, terminal)));

  program
    .command("sweep <book>")
    .description("a table of outcomes over a grid of inputs, on all cores")
    .option("--vary <axis...>", "a value and its range: 'pressure from 20 mbar to 200 mbar step 20 mbar'")
    .option("--show <formula...>", "what to work out at every point")
    .option("--shard <i/n>", "only the i-th of n parts, to spread a sweep over machines", readShard)
    .option("--into <file>", "write lines of JSON into a file, and go on where it ends")
    .option("--workers <n>", "threads; as many as the machine has cores when left out", readWorkers)
    .option(...json)
    .action(async (book, options) => end(await sweepBook(book, options, terminal)));

  program
    .command("glossary [name]")
    .description("the functions and words of the language: all, one, or those that speak of a word")
    .option(...json)
    .action(async (name, options) => end(await glossary(name, options, terminal)));

  program
    .command("serve [book]")
    .description("serve the page on this machine and print its link")
    .option("--port <n>", `the port to use (${usualPort}, or a free one when it is taken)`, readPort)
    .action(async (book, options) => end(await serve(book, options, terminal)));

  return program;
}

/**
 * A formula may begin with a minus (`-2^2`); the reader of options would take it for one. It is set behind
 * the `--` that ends the options.
 */
function guardFormula(words: readonly string[]): string[] {
  if (words[0] !== "ask" || words.includes("--")) return [...words];
  const at = words.findIndex((word, i) => {
    const isValue = /^--(digits|book)$/.test(words[i - 1] ?? "");
    return i > 0 && !isValue && /^-[^-]/.test(word) && word !== "-h";
  });
  return at < 0 ? [...words] : [...words.slice(0, at), ...words.slice(at + 1), "--", words[at]!];
}

async function tellError(error: unknown, terminal: Terminal): Promise<number> {
  const { err } = terminal;
  if (error instanceof CommanderError) return error.exitCode === 0 ? exit.well : exit.wrongCall;
  // A room refuses what it was given (a damaged link, a file that is no spreadsheet) with a Trouble.
  if (error instanceof WrongCall || error instanceof Trouble) {
    const help = error.help === undefined ? "" : `    ${paint(err, "help", "help")}: ${error.help}\n`;
    await err.write(`${paint(err, "fault", "wrong call")}: ${error.message}\n${help}`);
    return exit.wrongCall;
  }
  const says = error instanceof Error ? error.message : String(error);
  await err.write(
    `${paint(err, "fault", "defect")}: invacuo has made a mistake of its own (${says}).\n` +
      `    ${paint(err, "help", "help")}: Please report it with the call and the book. Nothing was changed.\n`,
  );
  return exit.wrongCall;
}
