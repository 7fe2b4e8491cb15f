import { Mark } from "./Mark";

/** A message about the whole book: another tab, a file that cannot be read, a store that keeps nothing. */
export interface Notice {
  readonly says: string;
  readonly grave: boolean;
  readonly answers: readonly { readonly word: string; readonly act: () => void }[];
}

export function NoticeSlip({ notice }: { notice: Notice }) {
  return (
    <div className={`notice slip ${notice.grave ? "fault" : "gap"}`} role="alert">
      <Mark name={notice.grave ? "fault" : "care"} />
      <p>{notice.says}</p>
      <span className="fixes">
        {notice.answers.map((answer) => (
          <button type="button" className="act framed" key={answer.word} onClick={answer.act}>
            {answer.word}
          </button>
        ))}
      </span>
    </div>
  );
}
