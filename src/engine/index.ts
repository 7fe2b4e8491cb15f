export { openBook, openBookWith, searchesPutOff, takenUpAgain, underwayOf } from "./book";
export type {
  Answer,
  Asked,
  Book,
  ChartItem,
  ChartSeries,
  CheckItem,
  DefineItem,
  Explanation,
  FootCell,
  Item,
  Message,
  MonteCarlo,
  Origin,
  Shown,
  State,
  StepItem,
  Sweep,
  TableColumn,
  TableItem,
  Tick,
  TitleItem,
  TrialRange,
  UnreadItem,
  ValueItem,
} from "./report";
export type { Found, Search, Searches, Waits } from "./search";
export { answer } from "./show";
export type { Underway } from "./underway";
