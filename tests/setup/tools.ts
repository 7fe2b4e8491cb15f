import { spawnSync } from "node:child_process";

/**
 * What the tests need beside Node: programs of the operating system, with the Debian package that brings
 * each, and what is left untested without it.
 */
const tools: readonly { readonly finds: string; readonly brings: string; readonly tests: string }[] = [
  {
    finds: "command -v chromium || command -v chromium-browser",
    brings: "chromium",
    tests: "the page in a browser",
  },
  {
    finds: "command -v soffice || command -v libreoffice",
    brings: "libreoffice-calc-nogui",
    tests: "exported .ods and .xlsx in an office suite",
  },
  {
    finds: "command -v ssconvert",
    brings: "gnumeric",
    tests: "exported files in a second spreadsheet program",
  },
  { finds: "command -v jing", brings: "jing", tests: "the .ods files against the published schema" },
  {
    finds: "/usr/bin/python3 -c 'import openpyxl'",
    brings: "python3-openpyxl",
    tests: "the stored values of exported .xlsx",
  },
];

const there = (finds: string) => spawnSync("sh", ["-c", finds], { stdio: "ignore" }).status === 0;

/**
 * Runs once before all tests: looks for the tools and installs what is missing where that is possible
 * (Debian, as root, unless INVACUO_INSTALL=no). What stays missing is said loudly; the tests that need it
 * are then skipped or fail, each by its own choice.
 */
export default function prepareTools(): void {
  const missing = tools.filter((tool) => !there(tool.finds));
  if (missing.length === 0) return;
  if (mayInstall()) {
    console.warn(
      `\nThe tests need ${missing.map((t) => t.brings).join(", ")}; installing them with apt-get (this takes minutes, once).\n`,
    );
    const environment = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    spawnSync("apt-get", ["update", "-qq"], { stdio: "inherit", env: environment });
    const packages = [...missing.map((tool) => tool.brings), "fonts-dejavu-core"];
    spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...packages], {
      stdio: ["ignore", "ignore", "inherit"],
      env: environment,
    });
  }
  const still = missing.filter((tool) => !there(tool.finds));
  if (still.length === 0) return;
  console.warn(
    [
      "",
      "************************************************************************************",
      "*  NOT EVERYTHING IS TESTED. These programs are missing:",
      ...still.map((tool) => `*    ${tool.brings}: without it nothing tests ${tool.tests}`),
      `*  On Debian:  apt-get install ${still.map((tool) => tool.brings).join(" ")}`,
      "************************************************************************************",
      "",
    ].join("\n"),
  );
}

function mayInstall(): boolean {
  return process.env.INVACUO_INSTALL !== "no" && process.getuid?.() === 0 && there("command -v apt-get");
}
