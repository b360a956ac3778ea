/**
 * Holds every member of Office.js that src/ uses against the requirement sets that manifest.xml asks for, by what the
 * comments of the types say ("[Api set: ExcelApi 1.9]"). Names of properties that are loaded are members too. A member
 * that may be missing is used with its own guard, and stands below with the reason.
 */
import { join, relative } from "node:path";
import ts from "typescript";
import { root } from "../install.mjs";
import { programOf } from "./compiler";

/** Members of sets that the manifest does not ask for: what is done where they are missing. */
const GUARDED: Readonly<Record<string, string>> = {
  "Context.officeTheme": "read in a try and taken for unknown",
  ...Object.fromEntries(
    [
      "UI.displayDialogAsync",
      "UI.messageParent",
      "UI.addHandlerAsync",
      "Dialog.messageChild",
      "Dialog.addEventHandler",
      ".message",
    ].map((member) => [member, "a page of its own is offered where isSetSupported says DialogApi 1.2"]),
  ),
  "UI.openBrowserWindow": "asked for by isSetSupported; without it files go to sheets, the clipboard or a download",
};

export interface Use {
  /** As the types call it: "Range.getRowProperties". */
  readonly member: string;
  /** Requirement sets, one of which is enough: "ExcelApi 1.9". */
  readonly sets: readonly string[];
  /** File and line. */
  readonly at: string;
}

/** Every member of Office's types that the files use. @param files of the program, full paths */
export function officeUses(files: readonly string[], program: ts.Program = programOf(files)): Use[] {
  const checker = program.getTypeChecker();
  return files.flatMap((file) => {
    const source = program.getSourceFile(file);
    return source ? new Reading(checker, source).uses() : [];
  });
}

/** Those that the sets do not hold. @param asked version by name of the set */
export function beyond(uses: readonly Use[], asked: ReadonlyMap<string, string>): Use[] {
  const holds = (set: string) => {
    const [name = "", version = ""] = set.split(" ");
    const most = asked.get(name);
    return most !== undefined && compareVersions(version, most) <= 0;
  };
  return uses.filter(({ member, sets }) => sets.length > 0 && !(member in GUARDED) && !sets.some(holds));
}

/** The requirement sets of a manifest, and those that every Excel with add-ins of functions has. */
export function askedSets(manifest: string): Map<string, string> {
  const sets = [...manifest.matchAll(/<Set Name="([^"]+)" MinVersion="([^"]+)"/g)];
  return new Map([
    ...sets.map(([, name = "", version = ""]) => [name, version] as const),
    // An Excel without it does not load the extension point of custom functions.
    ["CustomFunctionsRuntime", "1.1"] as const,
  ]);
}

function compareVersions(one: string, other: string): number {
  const [a, b] = [one, other].map((version) => version.split(".").map(Number)) as [number[], number[]];
  return (a[0] ?? 0) - (b[0] ?? 0) || (a[1] ?? 0) - (b[1] ?? 0);
}

const OFFICE_TYPES = /[\\/]@types[\\/](office-js|custom-functions-runtime)[\\/]/;
/** "[Api set: ExcelApi 1.9]", a link with the text "SharedRuntime 1.1", "[Api set: ExcelApiOnline 1.1]". */
const SET = /\[Api set: ([A-Za-z]+) (\d+\.\d+)[^\]]*\]|\| ([A-Za-z]+) (\d+\.\d+)\}/g;

class Reading {
  private readonly found: Use[] = [];

  constructor(
    private readonly checker: ts.TypeChecker,
    private readonly source: ts.SourceFile,
  ) {}

  uses(): Use[] {
    this.read(this.source);
    return this.found;
  }

  private read(node: ts.Node): void {
    if (ts.isPropertyAccessExpression(node)) this.note(this.checker.getSymbolAtLocation(node.name), node);
    else if (ts.isBindingElement(node)) this.noteBinding(node);
    else if (ts.isObjectLiteralExpression(node)) this.noteLiteral(node);
    if (ts.isCallExpression(node)) this.noteLoaded(node);
    ts.forEachChild(node, (child) => this.read(child));
  }

  private note(symbol: ts.Symbol | undefined, node: ts.Node): void {
    const declaration = symbol?.declarations?.find((one) => OFFICE_TYPES.test(one.getSourceFile().fileName));
    if (!declaration || !symbol) return;
    const holder = declaration.parent as ts.Node & { name?: ts.Node };
    const { line } = this.source.getLineAndCharacterOfPosition(node.getStart());
    this.found.push({
      member: `${holder.name?.getText() ?? ""}.${symbol.name}`,
      sets: setsOf(declaration),
      at: `${relative(root, this.source.fileName)}:${line + 1}`,
    });
  }

  /** `const { items } = worksheets` uses a member too. */
  private noteBinding(node: ts.BindingElement): void {
    const name = node.propertyName ?? node.name;
    if (!ts.isIdentifier(name) || !ts.isObjectBindingPattern(node.parent)) return;
    this.note(this.checker.getTypeAtLocation(node.parent).getProperty(name.text), node);
  }

  /** So does an option of a call. */
  private noteLiteral(node: ts.ObjectLiteralExpression): void {
    const type = this.checker.getContextualType(node);
    for (const property of node.properties)
      if (property.name && ts.isIdentifier(property.name)) this.note(type?.getProperty(property.name.text), property);
  }

  /** And so do the names that are loaded. */
  private noteLoaded(node: ts.CallExpression): void {
    if (!ts.isPropertyAccessExpression(node.expression) || node.expression.name.text !== "load") return;
    const [asked] = node.arguments;
    const type = this.checker.getTypeAtLocation(node.expression.expression);
    if (!asked || !this.isOffice(type)) return;
    const paths = this.texts(asked).flatMap((text) => text.split(","));
    if (paths.length === 0) throw new Error(`${this.source.fileName}: what ${node.getText()} loads cannot be read.`);
    for (const path of paths) {
      let holder: ts.Type | undefined = type;
      for (const name of path.trim().split("/")) {
        const property: ts.Symbol | undefined = holder?.getProperty(name);
        if (!property)
          throw new Error(`${this.source.fileName}: ${node.getText()} loads "${name}", which is not there.`);
        this.note(property, node);
        const next = this.checker.getTypeOfSymbol(property);
        holder = this.checker.getIndexTypeOfType(next, ts.IndexKind.Number) ?? next;
      }
    }
  }

  private isOffice(type: ts.Type): boolean {
    return (type.symbol?.declarations ?? []).some((one) => OFFICE_TYPES.test(one.getSourceFile().fileName));
  }

  /** The texts of a constant, or of a list of them. */
  private texts(node: ts.Expression): string[] {
    if (ts.isStringLiteralLike(node)) return [node.text];
    if (ts.isArrayLiteralExpression(node)) return node.elements.flatMap((one) => this.texts(one));
    if (ts.isSpreadElement(node)) return this.texts(node.expression);
    const declaration = this.checker.getSymbolAtLocation(node)?.valueDeclaration;
    const value = declaration && ts.isVariableDeclaration(declaration) ? declaration.initializer : undefined;
    return value ? this.texts(value) : [];
  }
}

/** What the comment of a member says, or that of what it is a member of. */
function setsOf(declaration: ts.Node): string[] {
  for (let node: ts.Node = declaration; !ts.isSourceFile(node); node = node.parent) {
    const text = node.getFullText().slice(0, node.getLeadingTriviaWidth());
    const sets = [...text.matchAll(SET)].map(([, name, version, linked, linkedVersion]) =>
      name === undefined ? `${linked} ${linkedVersion}` : `${name} ${version}`,
    );
    if (sets.length > 0) return sets;
  }
  return [];
}

/** The files of src/ that may speak to Office: the others import none of it, by the table of rooms. */
export function officeFiles(): string[] {
  return ["src/workbook/excel", "src/hosts/excel", "src/taskpane"].flatMap((folder) =>
    ts.sys.readDirectory(join(root, folder), [".ts", ".tsx"]),
  );
}
