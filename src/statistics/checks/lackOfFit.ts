/** Does a fit miss something that its drivers hold? Rows alike in every driver show the scatter by themselves. */
import { fisherUpper } from "../distributions/distributions";
import type { Grouping } from "../errors/errorModel";
import { groupsDiffer } from "../errors/groupParts";
import type { FTest } from "../fit/estimates";
import type { Regression } from "../fit/regression";
import { firstAlike, numbersCompared } from "../numeric/alikeRows";
import { inner } from "../numeric/symmetric";
import { plainFit, type WithinGroups } from "./withinGroups";

/**
 * What the fit leaves beyond the scatter of rows that are alike is lack of fit (Fisher, Journal of the Royal
 * Statistical Society 85 (1922) 597–612). Where sessions are taken out of the fit, they only shift what a setting
 * gives: rows are alike by their drivers, and the scatter is what settings and sessions together leave.
 * @param within the fit with its sessions taken out; the plain fit when left out
 * @returns undefined when no rows are alike, the fit leaves the drivers no freedom, or rows have weights
 */
export function lackOfFit(
  { question, fit, residual }: Regression,
  within: WithinGroups = plainFit({ fit, residual }),
): FTest | undefined {
  if (question.weights) return undefined;
  const settings = settingsOf(question.drivers, fit.rows);
  const alike = settings.levels.length < fit.rows;
  if (!alike || within.df <= 0 || (!within.by && settings.levels.length <= fit.kept.length)) return undefined;
  const found = within.by
    ? beyondSettings(within, within.by, settings)
    : groupsDiffer({ directions: within.directions, residuals: within.residuals, df: within.df }, settings);
  return found.p === null ? undefined : found;
}

/** Rows that are alike in every driver. */
function settingsOf(drivers: Regression["question"]["drivers"], rows: number): Grouping {
  const first = firstAlike(
    rows,
    drivers.map(({ values }) => numbersCompared(values)),
  );
  const groups = new Uint32Array(rows);
  let different = 0;
  for (let row = 0; row < rows; row++) groups[row] = first[row] === row ? different++ : groups[first[row]];
  return { name: "settings", groups, levels: Array.from({ length: different }, (_, setting) => String(setting)) };
}

/** The F test of the settings as a category, beside the groups. */
function beyondSettings(within: WithinGroups, by: Grouping, settings: Grouping): FTest {
  const { squares, df: df2 } = leftByTwo(within.residuals, by, settings);
  const df1 = within.df - df2;
  if (df1 <= 0 || df2 <= 0 || !(squares > 0)) return { value: null, df1, df2, p: null };
  const value = Math.max(0, within.residualSquares - squares) / df1 / (squares / df2);
  return { value, df1, df2, p: fisherUpper(value, df1, df2) };
}

/** As many rounds as cells can chain, at most; conjugate gradients end long before. */
const ROUNDS = 2000;

/**
 * What two categories together leave of values: the squares, and the degrees of freedom, which are rows less cells of
 * both, plus one for each part of the log that no cell joins to the rest. Conjugate gradients on what groups leave
 * within settings (Hestenes & Stiefel, Journal of Research of the National Bureau of Standards 49 (1952) 409–436), so
 * that the cost grows with the rows.
 */
function leftByTwo(values: Float64Array, by: Grouping, settings: Grouping): { squares: number; df: number } {
  const [ofGroup, ofSetting] = [averaging(by), averaging(settings)];
  /** From one number per group to how its rows differ from their setting, summed by group. */
  const crossed = (shifts: Float64Array) => {
    const rows = ofSetting.less(Float64Array.from(by.groups, (g) => shifts[g]));
    return ofGroup.sums(rows);
  };
  const rest = ofSetting.less(values);
  const shifts = new Float64Array(by.levels.length);
  let slope = ofGroup.sums(rest);
  let way = slope;
  let height = inner(slope, slope);
  const enough = 1e-26 * height;
  for (let round = 0; round < ROUNDS && height > enough; round++) {
    const along = crossed(way);
    const curvature = inner(way, along);
    if (!(curvature > 0)) break;
    const step = height / curvature;
    slope = slope.map((one, g) => one - step * along[g]);
    for (let g = 0; g < shifts.length; g++) shifts[g] += step * way[g];
    const next = inner(slope, slope);
    const turn = next / height;
    way = slope.map((one, g) => one + turn * way[g]);
    height = next;
  }
  const left = ofSetting.less(values.map((value, row) => value - shifts[by.groups[row]]));
  const rank = ofGroup.present + ofSetting.present - parts(by, settings);
  return { squares: inner(left, left), df: values.length - rank };
}

/** Sums by a category, and values less its means. */
function averaging({ groups, levels }: Grouping) {
  const counts = new Float64Array(levels.length);
  for (const group of Array.from(groups)) counts[group]++;
  const sums = (values: Float64Array) => {
    const total = new Float64Array(levels.length);
    for (let row = 0; row < values.length; row++) total[groups[row]] += values[row];
    return total;
  };
  return {
    sums,
    present: counts.reduce((total, count) => total + (count > 0 ? 1 : 0), 0),
    less: (values: Float64Array) => {
      const total = sums(values);
      return Float64Array.from(values, (value, row) => value - total[groups[row]] / counts[groups[row]]);
    },
  };
}

/** Into how many parts the rows fall that share no level of either category, directly or through others. */
function parts(one: Grouping, other: Grouping): number {
  const above = Array.from({ length: one.levels.length + other.levels.length }, (_, node) => node);
  const root = (node: number): number => {
    while (above[node] !== node) node = above[node] = above[above[node]];
    return node;
  };
  for (let row = 0; row < one.groups.length; row++)
    above[root(one.groups[row])] = root(one.levels.length + other.groups[row]);
  const roots = new Set<number>();
  for (let row = 0; row < one.groups.length; row++) roots.add(root(one.groups[row]));
  return roots.size;
}
