/** Small faults that can be put into a source: each is one change of one place. */
import ts from "typescript";

export interface Mutant {
  /** Path below the root, with "/" between names. */
  readonly file: string;
  /** From 1. */
  readonly line: number;
  readonly column: number;
  /** What stood there and what stands there now. */
  readonly from: string;
  readonly to: string;
  readonly start: number;
  readonly end: number;
  /** The expression that is computed wherever the fault can count. */
  readonly around: Span;
}

interface Span {
  readonly start: number;
  readonly end: number;
}

const { SyntaxKind: Kind } = ts;

/** What an operator is changed to; comparisons change at their bound and as a whole. */
const OPERATORS: Partial<Record<ts.SyntaxKind, readonly string[]>> = {
  [Kind.PlusToken]: ["-"],
  [Kind.MinusToken]: ["+"],
  [Kind.AsteriskToken]: ["/"],
  [Kind.SlashToken]: ["*"],
  [Kind.PercentToken]: ["*"],
  [Kind.AsteriskAsteriskToken]: ["*"],
  [Kind.LessThanToken]: ["<=", ">="],
  [Kind.LessThanEqualsToken]: ["<", ">"],
  [Kind.GreaterThanToken]: [">=", "<="],
  [Kind.GreaterThanEqualsToken]: [">", "<"],
  [Kind.EqualsEqualsEqualsToken]: ["!=="],
  [Kind.ExclamationEqualsEqualsToken]: ["==="],
  [Kind.AmpersandAmpersandToken]: ["||"],
  [Kind.BarBarToken]: ["&&"],
  [Kind.PlusEqualsToken]: ["-="],
  [Kind.MinusEqualsToken]: ["+="],
  [Kind.AsteriskEqualsToken]: ["/="],
  [Kind.SlashEqualsToken]: ["*="],
};

/** All faults of a source, in the order of their places. Texts, types and imports are left alone. */
export function mutantsOf(file: string, source: string): Mutant[] {
  const tree = ts.createSourceFile(file, source, ts.ScriptTarget.ES2022, true);
  const found: Mutant[] = [];
  const change = (node: ts.Node, to: string) => {
    const start = node.getStart(tree);
    const { line, character } = tree.getLineAndCharacterOfPosition(start);
    const outer = computed(node);
    const around = { start: outer.getStart(tree), end: outer.end };
    const from = node.getText(tree);
    found.push({ file, line: line + 1, column: character + 1, from, to, start, end: node.end, around });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) || ts.isImportDeclaration(node) || ts.isInterfaceDeclaration(node)) return;
    if (ts.isTypeAliasDeclaration(node) || ts.isThrowStatement(node)) return;
    faultsOf(node, change);
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

function faultsOf(node: ts.Node, change: (node: ts.Node, to: string) => void): void {
  if (ts.isBinaryExpression(node)) {
    if (isTextJoined(node)) return;
    for (const to of OPERATORS[node.operatorToken.kind] ?? []) change(node.operatorToken, to);
  } else if (ts.isPrefixUnaryExpression(node)) {
    if (node.operator === Kind.MinusToken || node.operator === Kind.ExclamationToken)
      change(node, `(${node.operand.getText()})`);
  } else if (ts.isNumericLiteral(node)) {
    change(node, changedNumber(node.getText()));
  } else if (ts.isIfStatement(node)) {
    change(node.expression, "true");
    change(node.expression, "false");
  } else if (ts.isConditionalExpression(node)) {
    change(node.condition, "true");
    change(node.condition, "false");
  } else if (ts.isReturnStatement(node) && node.expression) {
    change(node.expression, "undefined");
  }
}

/** The nearest that stands where any expression could: an operator is in one, and so is the name of a property. */
function computed(node: ts.Node): ts.Node {
  const isName = ts.isPropertyAssignment(node.parent) && node.parent.name === node;
  return ts.isExpression(node) && !isName ? node : computed(node.parent);
}

/** Whether it puts texts together, where "+" is no sum. */
function isTextJoined({ operatorToken, left, right }: ts.BinaryExpression): boolean {
  const isText = (side: ts.Expression) => ts.isStringLiteralLike(side) || ts.isTemplateExpression(side);
  return operatorToken.kind === Kind.PlusToken && (isText(left) || isText(right));
}

/** Whole numbers by one, others by half. */
function changedNumber(text: string): string {
  const value = Number(text.replaceAll("_", ""));
  return String(Number.isInteger(value) ? value + 1 : value * 1.5);
}

/** The source with the fault in it. */
export function mutated(source: string, { start, end, to }: Mutant): string {
  return source.slice(0, start) + to + source.slice(end);
}

/** The source, telling `globalThis.reached` the numbers of the faults whose place is come to. */
export function marked(source: string, numbered: ReadonlyMap<number, Mutant>): string {
  const marks = [...numbered].flatMap(
    ([
      number,
      {
        around: { start, end },
      },
    ]) => [
      { at: start, isEnd: 0, length: end - start, text: `(globalThis.reached?.(${number}), ` },
      { at: end, isEnd: -1, length: end - start, text: ")" },
    ],
  );
  // From the last to the first; where several stand at one place, what ends there ends before the longest begins.
  marks.sort((a, b) => b.at - a.at || b.isEnd - a.isEnd || a.length - b.length);
  return marks.reduce((text, { at, text: mark }) => text.slice(0, at) + mark + text.slice(at), source);
}
