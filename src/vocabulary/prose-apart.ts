import type { Prose } from "./prose";

/** The prose that a build took out of the declarations, by the name of the function; undefined where it stands in them. */
export const apart: Readonly<Record<string, Prose>> | undefined = undefined;
