import { parcel } from "../view/parcel";

/** The run, its clocks, and what the book says of it. A book with steps asks for it, for it will be run. */
export const begunRun = parcel("The run", () => import("./BegunRun"));
