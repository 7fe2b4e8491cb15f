import { type ChildProcess, spawn } from "node:child_process";
import { accessSync, constants, cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { builtCommand } from "../setup/built";

const top = resolve(import.meta.dirname, "../..");

/** The built command as a process of its own: what a script or a person really starts. */
describe("the built command", () => {
  let command = "";
  beforeAll(async () => {
    command = await builtCommand();
  });

  function start(words: readonly string[], environment: Record<string, string> = {}): ChildProcess {
    return spawn(command, words, { cwd: top, env: { ...process.env, ...environment }, stdio: "pipe" });
  }

  async function finish(
    child: ChildProcess,
    input?: string,
  ): Promise<{ code: number | null; out: string; err: string }> {
    let out = "";
    let err = "";
    child.stdout!.setEncoding("utf8").on("data", (piece) => {
      out += piece;
    });
    child.stderr!.setEncoding("utf8").on("data", (piece) => {
      err += piece;
    });
    child.stdin!.on("error", () => {}).end(input ?? "");
    const code = await new Promise<number | null>((done) => child.on("close", done));
    return { code, out, err };
  }

  it("may be executed, and is found by its name in the package", () => {
    accessSync(command, constants.X_OK);
    expect(readFileSync(command, "utf8").startsWith("#!/usr/bin/env node\n")).toBe(true);
    const { bin } = JSON.parse(readFileSync(resolve(top, "package.json"), "utf8"));
    expect(resolve(top, bin.invacuo)).toBe(command);
  });

  it("needs nothing but node: it works in a folder without packages", async () => {
    const folder = mkdtempSync(join(tmpdir(), "invacuo-alone-"));
    try {
      cpSync(dirname(command), folder, { recursive: true });
      writeFileSync(join(folder, "package.json"), '{ "type": "module" }');
      const alone = spawn(process.execPath, [
        join(folder, "invacuo.js"),
        "ask",
        "marry([1 L], [40 %vol]).strength",
      ]);
      expect(await finish(alone)).toMatchObject({ code: 0, out: "40 %vol\n" });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("answers, and ends with the agreed codes", async () => {
    expect(await finish(start(["ask", "0.1 + 0.2 is 0.3"]))).toEqual({ code: 0, out: "true\n", err: "" });
    expect((await finish(start(["ask", "1 L + 200 g"]))).code).toBe(1);
    expect((await finish(start(["calc", "nothing.vacuo"]))).code).toBe(2);
  });

  it("works out an example that has no fault", async () => {
    const ran = await finish(start(["calc", "workbooks/harbour-gin.vacuo"]));
    expect(ran.code).toBe(0);
    expect(ran.out).toContain("60.79 ± 0.18");
  });

  it("reads thousands of lines from a pipe and gives an answer for each", async () => {
    const count = 20_000;
    const ran = await finish(start(["ask", "--lines"]), "0.1 + 0.2\n".repeat(count));
    expect(ran.out).toBe("0.3\n".repeat(count));
  });

  it("serves git as a merge driver, as the documents say", async () => {
    const folder = mkdtempSync(join(tmpdir(), "invacuo-git-"));
    const git = async (...words: string[]) => {
      const identity = ["-c", "user.name=Bench", "-c", "user.email=bench@kitchen.example"];
      const child = spawn("git", [...identity, ...words], { cwd: folder });
      const ran = await finish(child);
      expect(ran.code, `git ${words.join(" ")}: ${ran.err}`).toBe(0);
    };
    const write = (text: string) => writeFileSync(join(folder, "gin.vacuo"), text);
    // Two neighbouring cells of one row: lines would conflict, cells do not.
    const book = 'table t "T"\n| item | volume (mL) | strength |\n| juniper | 2400 | 61.2 %vol |\n';
    try {
      await git("init", "-q", "-b", "main");
      writeFileSync(join(folder, ".gitattributes"), "*.vacuo merge=invacuo\n");
      await git("config", "merge.invacuo.name", "books by statement and row");
      await git("config", "merge.invacuo.driver", `'${command}' merge %O %A %B --out %A --name %P`);
      write(book);
      await git("add", ".");
      await git("commit", "-qm", "Begin");
      await git("switch", "-qc", "theirs");
      write(book.replace("61.2", "60.9"));
      await git("commit", "-qam", "Measure again");
      await git("switch", "-q", "main");
      write(book.replace("2400", "2350"));
      await git("commit", "-qam", "Pour again");
      await git("merge", "-q", "--no-edit", "theirs");
      expect(readFileSync(join(folder, "gin.vacuo"), "utf8")).toBe(
        book.replace("61.2", "60.9").replace("2400", "2350"),
      );
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it.each(["SIGINT", "SIGTERM"] as const)("can be stopped while it waits for input (%s)", async (signal) => {
    const child = start(["ask", "--lines"]);
    child.stdin!.write("1 + 1\n");
    await new Promise((done) => setTimeout(done, 400));
    child.kill(signal);
    const ended = await new Promise((done) => child.on("close", (_, by) => done(by)));
    expect(ended).toBe(signal);
  });

  it("stops quietly when nobody reads on", async () => {
    const child = start(["ask", "--lines"]);
    let err = "";
    child.stderr!.on("data", (piece) => {
      err += piece;
    });
    child.stdout!.once("data", () => child.stdout!.destroy());
    child.stdin!.on("error", () => {}).end("1 + 1\n".repeat(200_000));
    const code = await new Promise((done) => child.on("close", done));
    expect(err).toBe("");
    expect(code).toBe(0);
  });

  it("has no colours when it does not write to a terminal", async () => {
    const ran = await finish(start(["calc", "workbooks/harbour-gin.vacuo"], { FORCE_COLOR: "1" }));
    expect(ran.out).not.toContain("\u001b");
  });
});
