/**
 * The command was called wrongly: a file that is not there or cannot be read, an option that makes no
 * sense. Ends the command with exit code 2. `says` is one plain sentence, `help` what to do instead.
 */
export class WrongCall extends Error {
  readonly help?: string;

  constructor(says: string, help?: string) {
    super(says);
    this.name = "WrongCall";
    if (help !== undefined) this.help = help;
  }
}

/** Exit codes, a contract with scripts. */
export const exit = { well: 0, faulty: 1, wrongCall: 2 } as const;
