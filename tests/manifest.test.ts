/**
 * manifest.xml against the rules of the add-in only manifest that a loading Excel enforces, and against what is built
 * and served.
 */
import { existsSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";
import { JSDOM } from "jsdom";
import { OfficeAddinManifest } from "office-addin-manifest";
import { describe, expect, it } from "vitest";
import { CLEARING } from "../src/taskpane/clearCache";
import { excelSteps } from "../scripts/hosting/excelSteps";
import { root } from "../scripts/install.mjs";
import { MANIFEST, manifestPort, readManifest, withPort, withVersion } from "../scripts/manifest";
import metadata from "../src/functions/functions.json";
import { associateFunctions } from "../src/hosts/excel/customFunctions";
import { bankLibrary } from "../src/functions/library";
import { VERSION } from "../src/version";

const { document } = new JSDOM(readManifest(), { contentType: "text/xml" }).window;
const all = (name: string) => [...document.getElementsByTagName(name)];
const one = (name: string) => {
  const found = all(name);
  expect(found.length, name).toBe(1);
  return found[0];
};
const children = (element: Element) => [...element.children].map(({ tagName }) => tagName);
const value = (element: Element) => element.getAttribute("DefaultValue") ?? "";
const resources = new Map(
  [...all("bt:Image"), ...all("bt:Url"), ...all("bt:String")]
    .filter((element) => element.hasAttribute("id"))
    .map((element) => [element.getAttribute("id")!, element]),
);
const resid = (element: Element | null) => element?.getAttribute("resid") ?? "";
const addresses = [
  ...new Set([...document.querySelectorAll("[DefaultValue]")].map(value).filter((text) => text.includes("://"))),
];

/** Children in the order that the schema's sequence asks for; those that are not in use may be missing. */
const ORDER: readonly (readonly [string, readonly string[]])[] = [
  [
    "OfficeApp",
    [
      "Id",
      "AlternateId",
      "Version",
      "ProviderName",
      "DefaultLocale",
      "DisplayName",
      "Description",
      "IconUrl",
      "HighResolutionIconUrl",
      "SupportUrl",
      "AppDomains",
      "Hosts",
      "Requirements",
      "DefaultSettings",
      "Permissions",
      "VersionOverrides",
    ],
  ],
  ["VersionOverrides", ["Description", "Requirements", "Hosts", "Resources"]],
  ["DesktopFormFactor", ["GetStarted", "FunctionFile", "ExtensionPoint"]],
  ["GetStarted", ["Title", "Description", "LearnMoreUrl"]],
  ["Group", ["Label", "Icon", "Control"]],
  ["Control", ["Label", "Supertip", "Icon", "Action"]],
  ["Supertip", ["Title", "Description"]],
  ["Action", ["TaskpaneId", "SourceLocation"]],
  ["Resources", ["bt:Images", "bt:Urls", "bt:ShortStrings", "bt:LongStrings"]],
];

interface Built {
  entry: Record<string, string>;
  output: { filename(about: { chunk: { name: string } }): string };
  plugins: { userOptions?: { filename?: string }; patterns?: { from: string }[] }[];
}
const { default: webpackConfig } = (await import(pathToFileURL(join(root, "webpack.config.js")).href)) as {
  default: (env: object, given: { mode: string }) => Built;
};
/** Whether a build makes the file, by what the build's configuration declares. */
function isBuilt(name: string): boolean {
  const { entry, output, plugins } = webpackConfig({}, { mode: "production" });
  const scripts = Object.keys(entry).map((page) => output.filename({ chunk: { name: page } }).replace("[name]", page));
  const shells = plugins.map(({ userOptions }) => userOptions?.filename);
  const copied = plugins
    .flatMap(({ patterns }) => patterns ?? [])
    .some(({ from }) => {
      const [folder, file] = [from.replace(/\/[^/]*$/, ""), basename(from)];
      return (
        (file === name || (file.startsWith("*") && name.endsWith(file.slice(1)))) &&
        existsSync(join(root, folder, name))
      );
    });
  return copied || scripts.includes(name) || shells.includes(name);
}

describe("manifest.xml", () => {
  it("is well formed and a task pane add-in", () => {
    expect(document.querySelector("parsererror")).toBeNull();
    expect(document.documentElement.tagName).toBe("OfficeApp");
    expect(document.documentElement.getAttribute("xsi:type")).toBe("TaskPaneApp");
    expect(one("VersionOverrides").getAttribute("xsi:type")).toBe("VersionOverridesV1_0");
  });

  it("is read by Office's own manifest reader", async () => {
    expect(await OfficeAddinManifest.readManifestFile(MANIFEST)).toMatchObject({
      id: one("Id").textContent,
      displayName: "Bendbook",
      hosts: ["Workbook"],
      officeAppType: "TaskPaneApp",
      permissions: "ReadWriteDocument",
      defaultSettings: { sourceLocation: "https://localhost:3443/taskpane.html" },
    });
  });

  it.each(ORDER)("%s has its children in the schema's order", (name, order) => {
    const there = children(one(name));
    expect(there.filter((child) => !order.includes(child))).toEqual([]);
    expect(there).toEqual([...there].sort((a, b) => order.indexOf(a) - order.indexOf(b)));
    expect(new Set(there).size).toBe(there.length);
  });

  it("has the two form factors and the shared runtime in order", () => {
    const host = one("VersionOverrides").querySelector("Host")!;
    expect(host.getAttribute("xsi:type")).toBe("Workbook");
    expect(children(host)).toEqual(["Runtimes", "AllFormFactors", "DesktopFormFactor"]);
    const [functions, ribbon] = all("ExtensionPoint");
    expect([functions.getAttribute("xsi:type"), ribbon.getAttribute("xsi:type")]).toEqual([
      "CustomFunctions",
      "PrimaryCommandSurface",
    ]);
    expect(children(functions)).toEqual(["Script", "Page", "Metadata", "Namespace"]);
    expect(one("OfficeTab").getAttribute("id")).toBe("TabHome");
  });

  it("says who and which it is as Excel asks for it", () => {
    expect(one("Id").textContent).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(one("Version").textContent).toMatch(/^\d{1,5}(\.\d{1,5}){3}$/);
    expect(one("DefaultLocale").textContent).toBe("en-US");
    expect(one("Permissions").textContent).toBe("ReadWriteDocument");
    expect(value(one("DisplayName")).length).toBeLessThanOrEqual(125);
    expect(value(document.querySelector("OfficeApp > Description")!).length).toBeLessThanOrEqual(250);
  });

  it("asks for the shared runtime and the newest Excel calls in use", () => {
    const sets = all("Set").map((set) => [set.getAttribute("Name"), set.getAttribute("MinVersion")]);
    expect(sets).toEqual([
      ["SharedRuntime", "1.1"],
      ["ExcelApi", "1.13"],
    ]);
  });

  it("resolves every resource, with ids of 32 characters at most, and keeps none that nothing uses", () => {
    const used = [...document.querySelectorAll("[resid]")].map(resid);
    expect(used.length).toBeGreaterThan(10);
    expect(used.filter((id) => !resources.has(id))).toEqual([]);
    expect([...resources.keys()].filter((id) => id.length > 32 || !used.includes(id))).toEqual([]);
    expect(resources.size).toBe(all("bt:Resources").length + [...one("Resources").querySelectorAll("[id]")].length);
  });

  it("keeps texts within their limits", () => {
    for (const [list, limit] of [
      ["bt:ShortStrings", 125],
      ["bt:LongStrings", 250],
    ] as const) {
      for (const text of one(list).children) {
        expect(value(text).length).toBeGreaterThan(0);
        expect(value(text).length).toBeLessThanOrEqual(limit);
      }
    }
  });

  it("runs pane, functions and ribbon on one page", () => {
    const page = resid(one("Runtime"));
    expect(one("Runtime").getAttribute("lifetime")).toBe("long");
    expect([
      resid(document.querySelector("Page > SourceLocation")),
      resid(one("FunctionFile")),
      resid(document.querySelector("Action > SourceLocation")),
    ]).toEqual([page, page, page]);
    expect(value(resources.get(page)!)).toBe(value(document.querySelector("DefaultSettings > SourceLocation")!));
  });

  it("gives icons of 16, 32 and 80 pixels and of the sizes between, which have that size", () => {
    for (const icon of all("Icon"))
      expect([...icon.children].map((image) => image.getAttribute("size"))).toEqual([
        "16",
        "20",
        "24",
        "32",
        "40",
        "48",
        "64",
        "80",
      ]);
    for (const image of document.querySelectorAll("Icon > *")) {
      const file = readFileSync(join(root, "src", "assets", basename(value(resources.get(resid(image))!))));
      const size = Number(image.getAttribute("size"));
      // Width and height stand in a PNG's header.
      expect([file.readUInt32BE(16), file.readUInt32BE(20)]).toEqual([size, size]);
    }
  });

  it.each(addresses)("%s is https, on this machine and built", (address) => {
    const { protocol, hostname, pathname } = new URL(address);
    expect([protocol, hostname]).toEqual(["https:", "localhost"]);
    expect(isBuilt(pathname.slice(1))).toBe(true);
  });

  it("does not take any name for built", () => {
    expect(isBuilt("nothing.html")).toBe(false);
    expect(isBuilt("icon-17.png")).toBe(false);
    expect(isBuilt("workbench.js")).toBe(false); // its name carries a digest
  });

  it("has the namespace of the other hosts and of the messages, and functions.json's ids", () => {
    const namespace = value(resources.get(resid(one("Namespace")))!);
    expect(namespace).toMatch(/^[A-Z][A-Z0-9.]*$/);
    expect(bankLibrary.namespace).toBe(namespace);
    const ids: string[] = [];
    let said: unknown;
    const excel = {
      associate: (id: string, body: (...given: unknown[]) => unknown) => {
        ids.push(id);
        try {
          body(
            // A value for each parameter, and Excel's own at the end.
            ...Array.from(
              { length: (metadata.functions.find((one) => one.id === id)?.parameters.length ?? 0) + 1 },
              () => ({
                get basicType() {
                  throw new Error("unforeseen");
                },
              }),
            ),
          );
        } catch (problem) {
          said = problem;
        }
      },
      Error: class {
        constructor(
          readonly code: string,
          readonly message?: string,
        ) {}
      } as never,
    };
    associateFunctions(excel, { seen: () => true, saw: () => undefined });
    expect(ids).toEqual(metadata.functions.map(({ id }) => id));
    expect(said).toMatchObject({ message: `${namespace}.${ids.at(-1)} stopped: unforeseen` });
    expect(value(resources.get("Bendbook.StartText")!)).toContain(`=${namespace}.${ids[0]} `);
  });
});

describe("the port", () => {
  it("stands in the manifest alone, and every address follows another one", () => {
    const xml = readManifest();
    expect(manifestPort(xml)).toBe(3443);
    const other = withPort(xml, 5001);
    expect(manifestPort(other)).toBe(5001);
    expect(other).not.toContain("3443");
    expect(withPort(other, 3443)).toBe(xml);
  });

  it("is refused when the manifest names none or two", () => {
    expect(() => manifestPort("<x/>")).toThrow("names no port");
    expect(() => manifestPort("https://localhost:1 https://localhost:2")).toThrow("the ports 1, 2");
  });
});

it("the version is package.json's, and follows another one", () => {
  expect(one("Version").textContent).toBe(`${VERSION}.0`);
  expect(withVersion(readManifest(), VERSION)).toBe(readManifest());
  expect(withVersion(readManifest(), "7.8.9")).toContain("<Version>7.8.9.0</Version>");
});

it("the steps name the manifest's full path for Windows, Mac and the web", () => {
  const steps = excelSteps({
    manifest: MANIFEST,
    authority: "/some place/ca.crt",
    page: "https://localhost:3443/taskpane.html",
  });
  const parts = steps.split(/^Excel on /m);
  expect(parts.map((part) => part.split(/\s|,/, 2).join(" ").trim()).slice(1)).toEqual(["Windows", "a Mac", "the web"]);
  expect(parts[0]).toContain(MANIFEST);
  expect(parts[2]).toContain(`cp "${MANIFEST}"`);
  expect(parts[3]).toContain(MANIFEST);
  expect(steps).toContain('certutil -user -addstore Root "/some place/ca.crt"');
  // What stands in the way: reaching this machine, and Excel's cache, with a way for each place.
  expect(steps).toContain("appcontainer EdgeWebView --loopback --yes");
  expect(steps).toContain("Local network access");
  expect(steps).toContain("%LOCALAPPDATA%\\Microsoft\\Office\\16.0\\Wef\\");
  const cache = steps.slice(steps.indexOf("clear its cache"));
  // In the words of the pane.
  for (const words of Object.values(CLEARING)) expect(cache.replace(/\s+/g, " ")).toContain(words);
  expect([...cache.matchAll(/^ {2}(Windows|Mac|the web) /gm)].map(([, where]) => where)).toEqual([
    "Windows",
    "Mac",
    "the web",
  ]);
  for (const line of steps.split("\n")) if (!line.includes(MANIFEST)) expect(line.length).toBeLessThanOrEqual(120);
});
