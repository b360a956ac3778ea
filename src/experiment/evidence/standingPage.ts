/**
 * A standing as one page of HTML that can be published: no script, nothing loaded, every text from a sheet escaped.
 */
import { say, toText, type Said, joinTexts } from "../language/said";
import { convertUnit } from "../language/unitConversion";
import { escapeMarkup } from "../language/escape";
import { confidenceText, counted, decimalsFor, fixed, significant, withUnit } from "../language/wording";
import { beliefOf, chanceReached, sizesOf, triesText, verdictSentences, type SizeBetween } from "./claimWords";
import { CHECK_KINDS, reasonOf, standings, type Claim, type EvidenceRules, type Standing } from "./evidence";

/** A claim and the file and sheet that it comes from. */
export interface GatheredClaim {
  readonly claim: Claim;
  /** "evening.xlsx, Claims". */
  readonly origin: string;
}

export interface StandingPage {
  readonly title: string;
  readonly made: Date;
  readonly rules: EvidenceRules;
  readonly certainty: number;
  /** In the unit of the rules; undefined where none is asked about. */
  readonly target?: number | undefined;
  readonly claims: readonly GatheredClaim[];
  /** What could not be gathered, in sentences. */
  readonly notGathered?: readonly string[];
}

const STYLE = `
body { font: 11pt/1.5 system-ui, sans-serif; color: #1b1b1b; background: #fff; max-width: 60em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.5em; line-height: 1.2; } h2 { font-size: 1.15em; margin-top: 1.8em; } p, li { overflow-wrap: anywhere; }
.wide { overflow-x: auto; } table { border-collapse: collapse; font-size: .9em; } th, td { text-align: left; vertical-align: top; padding: .3em .9em .3em 0; border-bottom: 1px solid #ccc; }
.number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; } svg { max-width: 100%; height: auto; } small { color: #555; }
@media print { body { margin: 0; max-width: none; } .wide { overflow: visible; } tr { break-inside: avoid; } }`;

/** The whole page. */
export function standingPage(page: StandingPage): string {
  const { title, made, claims, rules, certainty, notGathered = [] } = page;
  const sides = standings(
    claims.map(({ claim }) => claim),
    certainty,
  );
  const fallen = claims.filter(({ claim }) => !claim.stands);
  const body = [
    `<h1>${escapeMarkup(title)}</h1>`,
    paragraph(
      `${counted(claims.length, "claim")}, ${claims.length - fallen.length} of which ${claims.length - fallen.length === 1 ? "stands" : "stand"}. Made on ${made.toISOString().slice(0, 10)}.`,
    ),
    ...(sides.length === 0 ? [paragraph("No claim stands.")] : []),
    ...sides.flatMap(({ side, standing }) => [
      `<h2>Bends ${side}</h2>`,
      picture(standing, page),
      standingTable(standing, page),
      ...standing.map(({ claim }) => paragraph(joinTexts(verdictSentences(claim, rules, page.target, certainty), " "))),
    ]),
    ...(fallen.length > 0
      ? [
          "<h2>Claims that do not stand</h2>",
          list(
            fallen.map(
              ({ claim, origin }) => say`${named(claim)} (${origin}, row ${claim.row + 1}): ${reasonOf(claim) ?? ""}`,
            ),
          ),
        ]
      : []),
    "<h2>The rules</h2>",
    list(ruleSentences(page)),
    ...(notGathered.length > 0 ? ["<h2>Not gathered</h2>", list(notGathered)] : []),
  ].join("\n");
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'"><title>${escapeMarkup(title)}</title><style>${STYLE}</style></head>
<body>
${body}
</body></html>
`;
}

const paragraph = (text: Said) => `<p>${escapeMarkup(toText(text))}</p>`;
const list = (items: readonly Said[]) =>
  `<ul>${items.map((item) => `<li>${escapeMarkup(toText(item))}</li>`).join("")}</ul>`;

function named({ label, shooter, table }: Claim): string {
  return [label, ...(shooter === "" || shooter === label ? [] : [shooter]), ...(table === "" ? [] : [table])].join(
    ", ",
  );
}

function standingTable(standing: readonly Standing[], { rules, claims, target }: StandingPage): string {
  const { unit } = rules;
  const other = unit === "in" ? "mm" : "in";
  const head = [
    "Place",
    "Claim",
    `Bend (${unit})`,
    `Bend (${other})`,
    `With the other attempts (${unit})`,
    ...(target === undefined ? [] : [say`At least ${withUnit(significant(target, 4), unit)}`]),
    "Tied with",
    "Tries",
    "How it was checked",
    "Film",
    "From",
  ];
  const rows = standing.map(({ claim, rank, tiedWith }) => {
    const { together } = beliefOf(claim);
    const from = claims.find((one) => one.claim === claim)?.origin ?? "";
    const inOther = [claim.bend, claim.uncertainty].map((value) => convertUnit(value, unit, other));
    return [
      cell(String(rank)),
      cell(named(claim)),
      cell(say`${claim.shows === "at least" ? "at least " : ""}${withError(claim.bend, claim.uncertainty)}`, true),
      cell(withError(inOther[0] ?? 0, inOther[1] ?? 0), true),
      cell(together ? withError(together.value, together.standard) : "not told", true),
      ...(target === undefined ? [] : [cell(say`${significant(100 * chanceReached(claim, target), 2)} %`, true)]),
      cell(tiedWith.join(", ") || "nobody"),
      cell(triesText(claim)),
      cell(checkedText(claim)),
      `<td>${filmLink(claim.film)}</td>`,
      cell(`${from}, row ${claim.row + 1}`),
    ].join("");
  });
  return `<div class="wide"><table><thead><tr>${head.map((text) => `<th scope="col">${escapeMarkup(toText(text))}</th>`).join("")}</tr></thead><tbody>${rows.map((row) => `<tr>${row}</tr>`).join("")}</tbody></table></div>`;
}

function cell(text: Said, number = false): string {
  return `<td${number ? ' class="number"' : ""}>${escapeMarkup(toText(text))}</td>`;
}

/** "1.031 ± 0.018": a value and its standard uncertainty. */
function withError(value: number, standard: number): Said {
  const decimals = decimalsFor(standard);
  return say`${fixed(value, decimals)} ± ${fixed(standard, decimals)}`;
}

function checkedText({ checks }: Claim): string {
  return checks
    .map(({ name, verdict }) => `${CHECK_KINDS[name].asks}: ${verdict === "holds" ? "yes" : verdict}`)
    .join("; ");
}

/** A link where the text is the address of a page, the text itself where it is anything else. */
export function filmLink(text: string): string {
  const address =
    /^https?:\/\//i.test(text.trim()) && URL.canParse(text.trim()) ? new URL(text.trim()).href : undefined;
  return address === undefined
    ? escapeMarkup(toText(text))
    : `<a rel="noopener noreferrer nofollow" href="${escapeMarkup(address)}">${escapeMarkup(text.trim())}</a>`;
}

function ruleSentences({ rules, certainty, target }: StandingPage): Said[] {
  const length = (value: number) => withUnit(significant(value, 3), rules.unit);
  return [
    say`A claim stands when ${Object.values(CHECK_KINDS)
      .map(({ asks }) => asks)
      .join(", ")} was recorded after the shot and holds, to within ${length(rules.tolerance)} where it is a length.`,
    say`Places go by the size of the bend. Two claims are tied unless one is larger with a probability of ${significant(100 * certainty, 3)} % or more, each pair by itself; a place is one more than the number of claims that are larger so surely. After the sign ± stands the standard uncertainty; where a row names none it is ${length(rules.uncertainty)}.`,
    "An attempt that got by an obstacle bent at least what the obstacle asked for: ball's radius less gap.",
    "A claim is one success of many tries, and the largest of many is partly luck. Where the log of all attempts is at hand, what was to be expected of one attempt by all others, a normal curve about their mean, is joined with the reading or the obstacle by Bayes' rule; the reading then moves towards what was to be expected by the share u²/(u² + s²) of the distance, u its standard uncertainty and s the spread of single attempts (Efron, J. Am. Stat. Assoc. 106 (2011) 1602–1614). Places do not use it; the chance of a target does.",
    ...(target === undefined ? [] : [say`The target is ${length(target)}.`]),
    "Short and long bends are different feats and have places of their own. What was recorded cannot show that it was recorded truly; the films can be looked at again.",
  ];
}

/** Sizes of the picture, in its own units. */
const [WIDTH, LEFT, RIGHT, LINE] = [720, 190, 20, 34];

/** Every claim as a dot with its interval, and beneath it, hollow, what it comes to with the other attempts. */
function picture(standing: readonly Standing[], { rules, target }: StandingPage): string {
  const lines = standing.flatMap(({ claim }) => {
    const sizes = sizesOf(claim, rules.confidence);
    return sizes ? [{ name: claim.label, own: sizes.alone, joint: sizes.together }] : [];
  });
  const percent = toText(say`${confidenceText(rules.confidence)} %`);
  const ends = lines.flatMap(({ own, joint }) => [own.low, own.high, ...(joint ? [joint.low, joint.high] : [])]);
  const [low, high] = [Math.min(...ends, target ?? Infinity), Math.max(...ends, target ?? -Infinity)];
  const x = (value: number) => (LEFT + ((value - low) / (high - low || 1)) * (WIDTH - LEFT - RIGHT)).toFixed(1);
  const height = LINE * lines.length + 34;
  const bar = ({ value, low: from, high: to }: SizeBetween, y: number, hollow: boolean) =>
    `<line x1="${x(from)}" x2="${x(to)}" y1="${y}" y2="${y}" stroke="${hollow ? "#8a4b00" : "#0b5394"}" stroke-width="2"/><circle cx="${x(value)}" cy="${y}" r="4.5" fill="${hollow ? "#fff" : "#0b5394"}" stroke="${hollow ? "#8a4b00" : "#0b5394"}" stroke-width="2"/>`;
  const drawn = lines.map(({ name, own, joint }, i) => {
    const y = LINE * i + 18;
    const short = name.length > 24 ? `${name.slice(0, 23)}…` : name;
    return `<text x="${LEFT - 12}" y="${y + 6}" text-anchor="end">${escapeMarkup(short)}</text>${bar(own, y, false)}${joint ? bar(joint, y + 11, true) : ""}`;
  });
  const rule =
    target === undefined
      ? ""
      : `<line x1="${x(target)}" x2="${x(target)}" y1="4" y2="${height - 24}" stroke="#555" stroke-dasharray="4 3"/>`;
  const ticks = [low, (low + high) / 2, high].map(
    (value, i) =>
      `<text x="${x(value)}" y="${height - 6}" text-anchor="${["start", "middle", "end"][i] ?? "middle"}">${escapeMarkup(toText(withUnit(significant(value, 3), rules.unit)))}</text>`,
  );
  return `<svg role="img" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" font-size="13" font-family="system-ui, sans-serif"><title>Bends with ${percent} intervals: filled by the reading or obstacle alone, hollow with what was to be expected${target === undefined ? "" : "; the dashed line is the target"}</title>${rule}${drawn.join("")}${ticks.join("")}</svg><p><small>Filled: by the reading or obstacle alone, ${percent}. Hollow: with what the other attempts let expect.${target === undefined ? "" : " Dashed: the target."}</small></p>`;
}
