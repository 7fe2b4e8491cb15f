import { call, type Expression, number, operation } from "../expression";

/** Conditions that natives ask of their inputs. */
export const both = (...conditions: Expression[]): Expression => call("AND", ...conditions);

/** So much may a conversion miss the very end of a range by. */
const EDGE = 1e-9;
export const between = (x: Expression, low: number, high: number): Expression =>
  both(operation(">=", x, number(low - EDGE)), operation("<=", x, number(high + EDGE)));

/** A fraction that there can be. */
export const share = (x: Expression): Expression => between(x, 0, 1);
