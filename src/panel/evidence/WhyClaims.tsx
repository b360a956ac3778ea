/** Why the standing is as it is: what is asked for, whether the target was reached, ranks and ties. */
import { say, toText, joinTexts } from "../../experiment/language/said";
import { evidenceSentences, missingChecks, missingSentence } from "../../experiment/evidence/evidence";
import { verdictSentences } from "../../experiment/evidence/claimWords";
import { significant } from "../../experiment/language/wording";
import { Fold } from "../frame/Fold";
import { useSectionStyles } from "../frame/styles";
import type { ShownClaims } from "./useClaims";

interface Props {
  readonly shown: ShownClaims;
  /** Probability with which a target is to be reached. */
  readonly sure: number | undefined;
}

export function WhyClaims({ shown, sure }: Props) {
  const section = useSectionStyles();
  const { claims, rules, log, target, sides } = shown;
  const [first = "", ...more] = evidenceSentences(claims, rules);
  const missing = missingSentence(missingChecks(log));
  const withBend = claims.filter(({ bend }) => bend !== undefined);
  return (
    <>
      <div data-part="evidence" aria-live="polite">
        <p className={section.sentence}>{toText(first)}</p>
        {missing && <p className={section.sentence}>{missing}</p>}
      </div>
      <Fold title="Why?" standing="was it reached, and how much luck is in it" part="why">
        {more.map((text) => (
          <p key={toText(text)} className={section.sentence}>
            {toText(text)}
          </p>
        ))}
        {withBend.map((claim) => (
          <p key={claim.row} className={section.sentence} data-part="verdict">
            {toText(joinTexts(verdictSentences(claim, rules, target, sure), " "))}
          </p>
        ))}
      </Fold>
      <Fold
        title="How this was worked out"
        standing={sides.length === 0 ? "no claim stands" : "ranks, uncertainties and ties"}
        part="worked-out"
      >
        {sides.map((of) => (
          <StandingTable key={of.side} of={of} unit={rules.unit} />
        ))}
      </Fold>
    </>
  );
}

function StandingTable({ of: { side, standing }, unit }: { of: ShownClaims["sides"][number]; unit: string }) {
  const section = useSectionStyles();
  return (
    <div className={section.scroll} tabIndex={0} role="region" aria-label={`Bends ${side}`}>
      <table className={section.table} data-part={`standing-${side}`}>
        <caption>{`Bends ${side}`}</caption>
        <thead>
          <tr>
            <th scope="col">Rank</th>
            <th scope="col">Claim</th>
            <th scope="col" className="number">{`Bend (${unit})`}</th>
            <th scope="col">Tied with</th>
          </tr>
        </thead>
        <tbody>
          {standing.map(({ claim, rank, tiedWith }) => (
            <tr key={claim.row}>
              <th scope="row" style={{ minWidth: 0 }}>
                {rank}
              </th>
              <td>{claim.label}</td>
              <td className="number">
                {toText(say`${significant(claim.bend, 4)} (u ${significant(claim.uncertainty, 2)})`)}
              </td>
              <td>{tiedWith.join(", ") || "nobody"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
