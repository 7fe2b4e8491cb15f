import { useDeferredValue, useEffect, useId, useMemo, useRef, useState } from "react";
import type { Declaration, Parameter } from "../../vocabulary";
import { vocabulary } from "../../vocabulary";
import { callOf, takesInWords } from "../../vocabulary/glossary";
import "../../vocabulary/prose-here";
import { matching } from "../state/glossary";
import { Prose, sentence } from "./Prose";
import { SideSheet } from "./SideSheet";
import { writesInLine } from "./WritingPlace";
import { useNotebook } from "./workbench";
import "./why.css";

/** Every function of the language, to be searched by name or by what it answers. */
export default function Functions() {
  const store = useNotebook();
  const [asked, setAsked] = useState("");
  const later = useDeferredValue(asked);
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  // Whoever opens it with keys at hand is about to search; a soft keyboard would cover what there is to see.
  useEffect(() => {
    if (!writesInLine()) field.current?.focus({ preventScroll: true });
  }, []);
  const { groups, whole } = useMemo(() => matching(vocabulary.values(), later), [later]);
  const count = groups.reduce((n, g) => n + g.functions.length, 0);
  return (
    <SideSheet label="Functions" title="Functions" onClose={() => store.send({ type: "side", side: "none" })}>
      <label htmlFor={id} className="unseen">
        Search the functions
      </label>
      <input
        ref={field}
        id={id}
        className="search"
        type="search"
        placeholder="a name, or what you want to know"
        value={asked}
        onChange={(event) => setAsked(event.currentTarget.value)}
      />
      <p className="source ask" role="status">
        {count === 0
          ? `No function speaks of “${later}”.`
          : whole
            ? count === 1
              ? "1 function"
              : `${count} functions`
            : `No function speaks of all of it; of most of it ${count === 1 ? "this one does" : `these ${count} do`}:`}
      </p>
      {groups.map((group) => (
        <section key={group.name}>
          <h3>{group.name}</h3>
          {group.functions.map((f) => (
            <FunctionHelp key={f.name} is={f} open={later.trim() !== "" && count === 1} />
          ))}
        </section>
      ))}
    </SideSheet>
  );
}

/** What a function takes, gives, rests on, and an example. */
export function FunctionHelp({ is, open = false }: { is: Declaration; open?: boolean }) {
  const parts = is.result.filter((r) => r.name !== "");
  return (
    <details className="function" open={open || undefined}>
      <summary>
        <code>{callOf(is)}</code>
        <br />
        <Prose text={is.says} />
      </summary>
      <dl>
        {is.parameters.map((p) => (
          <ParameterHelp key={p.name} is={p} />
        ))}
      </dl>
      {parts.length === 0 ? null : (
        <>
          <p className="ask">gives</p>
          <dl>
            {parts.map((r) => (
              <div key={r.name} style={{ display: "contents" }}>
                <dt>.{r.name}</dt>
                <dd>
                  <Prose text={r.says} />
                </dd>
              </div>
            ))}
          </dl>
        </>
      )}
      <p className="source equation">{is.equation}</p>
      <p className="source ask">
        <Prose text={sentence(is.source)} />
      </p>
      <p className="source">
        Holds for <Prose text={is.range} />.
      </p>
      {is.trust === undefined ? null : (
        <p className="source">
          <Prose text={sentence(is.trust)} />
        </p>
      )}
      {(is.cautions ?? []).map((caution) => (
        <p className="slip gap" key={caution}>
          <Prose text={caution} />
        </p>
      ))}
      {is.examples.map((example) => (
        <p key={example.formula}>
          <code>{example.formula}</code> <span className="ask">gives</span> {example.gives}
        </p>
      ))}
    </details>
  );
}

function ParameterHelp({ is }: { is: Parameter }) {
  const kinds = takesInWords(is);
  return (
    <>
      <dt>{is.name}</dt>
      <dd>
        <Prose text={is.says} />
        {kinds === "" ? null : <span className="ask"> {sentence(kinds)}</span>}
        {is.otherwise === undefined ? null : <span className="ask"> Without it {is.otherwise}.</span>}
      </dd>
    </>
  );
}
