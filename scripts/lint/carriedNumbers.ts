/**
 * Holds that a text which carries its numbers (`Said`, src/experiment/language/said.ts) is turned into plain text by
 * `toText` alone, where it is shown. JavaScript would do it silently in a template without `say`, in `join`, `+` or
 * `String`, and two texts are never the same object; the compiler lets all of that through.
 */
import { relative } from "node:path";
import ts from "typescript";
import { root } from "../install.mjs";
import { programOf } from "./compiler";

const SAID = "src/experiment/language/said.ts";

/** Where a text would be flattened or compared as an object: "src/x.ts:12: why". @param files full paths */
export function flattened(files: readonly string[], program: ts.Program = programOf(files)): string[] {
  const checker = program.getTypeChecker();
  const home = program.getSourceFiles().find(({ fileName }) => fileName.endsWith(SAID));
  const alias = home?.statements.find((one) => ts.isTypeAliasDeclaration(one) && one.name.text === "Said");
  if (!alias) throw new Error(`${SAID} says no more what a text with numbers is.`);
  const reading = new Reading(checker, checker.getTypeAtLocation(alias));
  return program
    .getSourceFiles()
    .filter((source) => files.includes(source.fileName) && source !== home)
    .flatMap((source) => reading.read(source));
}

/** Methods that go by which object a text is, not by what it says. */
const BY_OBJECT = new Set(["includes", "indexOf", "has"]);

class Reading {
  private found: string[] = [];

  constructor(
    private readonly checker: ts.TypeChecker,
    private readonly said: ts.Type,
  ) {}

  read(source: ts.SourceFile): string[] {
    this.found = [];
    this.look(source, source);
    return this.found;
  }

  private look(node: ts.Node, source: ts.SourceFile): void {
    const why = this.why(node);
    if (why !== undefined) {
      const { line } = source.getLineAndCharacterOfPosition(node.getStart());
      this.found.push(`${relative(root, source.fileName)}:${line + 1}: ${why}`);
    }
    ts.forEachChild(node, (child) => this.look(child, source));
  }

  private why(node: ts.Node): string | undefined {
    if (ts.isTemplateExpression(node) && !ts.isTaggedTemplateExpression(node.parent))
      return node.templateSpans.some(({ expression }) => this.carries(expression))
        ? "a template with a number that is carried: begin it with say"
        : undefined;
    if (ts.isBinaryExpression(node)) return this.whyOfPair(node);
    if (ts.isNewExpression(node) && /^(Set|Map)$/.test(node.expression.getText()))
      return this.keyed(node) ? "texts that carry numbers are kept by object: take toText of each" : undefined;
    if (ts.isPropertyAssignment(node)) return this.whyOfJson(node.initializer);
    if (ts.isShorthandPropertyAssignment(node)) return this.whyOfJson(node.name);
    if (ts.isJsxExpression(node) && !ts.isJsxAttribute(node.parent))
      return node.expression && this.carries(node.expression)
        ? "a text that carries numbers is shown by toText"
        : undefined;
    return ts.isCallExpression(node) ? this.whyOfCall(node) : undefined;
  }

  private whyOfPair({ left, right, operatorToken: { kind } }: ts.BinaryExpression): string | undefined {
    if (kind === ts.SyntaxKind.PlusToken)
      return this.carries(left) || this.carries(right) ? "texts that carry numbers are joined by joinTexts" : undefined;
    const compares =
      kind === ts.SyntaxKind.EqualsEqualsEqualsToken || kind === ts.SyntaxKind.ExclamationEqualsEqualsToken;
    return compares && this.carries(left) && this.carries(right)
      ? "texts that carry numbers are compared by saysSame"
      : undefined;
  }

  private whyOfCall({ expression: called, arguments: given }: ts.CallExpression): string | undefined {
    if (called.getText() === "String")
      return given.some((one) => this.carries(one)) ? "a text that carries numbers is shown by toText" : undefined;
    if (called.getText() === "JSON.stringify" && given[0] && this.within(this.checker.getTypeAtLocation(given[0]), 4))
      return "JSON has its texts as they are read: toText of each";
    if (given.some((one) => this.carries(one) && this.takesAnything(one)))
      return "a text that carries numbers goes where anything is taken: toText first";
    if (!ts.isPropertyAccessExpression(called)) return undefined;
    if (called.name.text === "join")
      return this.holds(called.expression) ? "texts that carry numbers are joined by joinTexts" : undefined;
    return BY_OBJECT.has(called.name.text) && given.some((one) => this.carries(one))
      ? "texts that carry numbers are compared by saysSame"
      : undefined;
  }

  /** What the command line makes without saying of which type is on its way into JSON. */
  private whyOfJson(value: ts.Expression): string | undefined {
    const wanted = this.checker.getContextualType(value);
    const said = wanted && (wanted.flags & (ts.TypeFlags.Unknown | ts.TypeFlags.TypeParameter)) === 0;
    if (said || !value.getSourceFile().fileName.includes("/src/cli/")) return undefined;
    return this.within(this.checker.getTypeAtLocation(value), 4)
      ? "JSON has its texts as they are read: toText of each"
      : undefined;
  }

  private takesAnything(node: ts.Expression): boolean {
    const wanted = this.checker.getContextualType(node);
    return wanted !== undefined && (wanted.flags & ts.TypeFlags.Unknown) !== 0;
  }

  /** Whether the expression may be a text with numbers in it. */
  private carries(node: ts.Node): boolean {
    return this.isCarrier(this.checker.getTypeAtLocation(node));
  }

  /** Whether it is a list of such texts. */
  private holds(node: ts.Node): boolean {
    const element = this.checker.getIndexTypeOfType(this.checker.getTypeAtLocation(node), ts.IndexKind.Number);
    return element !== undefined && this.isCarrier(element);
  }

  /** Whether a text with numbers stands somewhere in what is made of such types. */
  private within(type: ts.Type, deep: number): boolean {
    if (this.isCarrier(type)) return true;
    if (type.isUnion()) return type.types.some((one) => this.within(one, deep));
    if (deep === 0 || (type.flags & ts.TypeFlags.Object) === 0) return false;
    const element = this.checker.getIndexTypeOfType(type, ts.IndexKind.Number);
    if (element) return this.within(element, deep - 1);
    return type.getProperties().some((one) => this.within(this.checker.getTypeOfSymbol(one), deep - 1));
  }

  private keyed(node: ts.NewExpression): boolean {
    const made = this.checker.getTypeAtLocation(node) as ts.TypeReference;
    const [key] = this.checker.getTypeArguments(made);
    return key !== undefined && this.isCarrier(key);
  }

  private isCarrier(type: ts.Type): boolean {
    const parts = type.isUnion() ? type.types : [type];
    return parts.some(
      (part) =>
        (part.flags & (ts.TypeFlags.Object | ts.TypeFlags.Intersection)) !== 0 &&
        part.getProperties().length > 0 &&
        !this.isPlain(part) &&
        this.checker.isTypeAssignableTo(part, this.said),
    );
  }

  /** A list of numbers or of words alone would do for a text and is none. */
  private isPlain(type: ts.Type): boolean {
    const element = this.checker.getIndexTypeOfType(type, ts.IndexKind.Number);
    const plain = ts.TypeFlags.NumberLike | ts.TypeFlags.StringLike | ts.TypeFlags.Never;
    const parts = element?.isUnion() ? element.types : element ? [element] : [];
    return element !== undefined && parts.every(({ flags }) => (flags & plain) !== 0);
  }
}
