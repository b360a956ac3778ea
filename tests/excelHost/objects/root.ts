/** The workbook itself, what is kept with it, and Office's services beside it. */
import { ExcelFailure } from "../failure";
import { remote, type Kind, type Remote } from "../model";
import type { HostPart, HostWorkbook } from "../workbook";
import { RANGE } from "./range";
import { ALL_TABLES } from "./tables";
import { WORKSHEETS } from "./worksheets";

export const WORKBOOK: Kind<HostWorkbook> = {
  name: "Workbook",
  get: { Name: () => "Trials.xlsx" },
  parts: {
    Worksheets: (workbook) => remote(WORKSHEETS, workbook),
    Tables: (workbook) => remote(ALL_TABLES, workbook),
    CustomXmlParts: (workbook) => remote(PARTS, workbook),
    Protection: (workbook) => remote(STRUCTURE, workbook),
  },
  methods: {
    GetSelectedRange: (workbook) => {
      const { selected } = workbook;
      const sheet = workbook.sheet(selected?.sheet ?? workbook.active);
      return remote(RANGE, { sheet, area: selected?.area ?? { row: 0, column: 0, rows: 1, columns: 1 } });
    },
  },
};

const STRUCTURE: Kind<HostWorkbook> = {
  name: "WorkbookProtection",
  get: { Protected: ({ isProtected }) => isProtected },
  methods: {
    Protect: (workbook) => void (workbook.isProtected = true),
    Unprotect: (workbook) => void (workbook.isProtected = false),
  },
};

interface PartTarget {
  readonly workbook: HostWorkbook;
  readonly part: HostPart;
}
const partObject = (workbook: HostWorkbook, part: HostPart): Remote => remote(PART, { workbook, part });

function partOf(workbook: HostWorkbook, id: string): Remote {
  const part = workbook.parts.find((one) => one.id === id);
  if (!part) throw new ExcelFailure("ItemNotFound", "The requested resource doesn't exist.");
  return partObject(workbook, part);
}

const namespaceOf = (xml: string) => /xmlns="([^"]*)"/.exec(xml)?.[1] ?? "";

const PARTS: Kind<HostWorkbook> = {
  name: "CustomXmlPartCollection",
  items: (workbook) => workbook.parts.map((part) => partObject(workbook, part)),
  item: partOf,
  methods: {
    GetByNamespace: (workbook, namespace) => remote(SCOPED_PARTS, { workbook, namespace }),
    GetCount: ({ parts }) => parts.length,
    Add: (workbook, xml: string) => {
      const part = { id: workbook.newId(), namespace: namespaceOf(xml), xml };
      workbook.parts.push(part);
      return partObject(workbook, part);
    },
  },
};

const SCOPED_PARTS: Kind<{ workbook: HostWorkbook; namespace: string }> = {
  name: "CustomXmlPartScopedCollection",
  items: ({ workbook, namespace }) =>
    workbook.parts.filter((one) => one.namespace === namespace).map((part) => partObject(workbook, part)),
  item: ({ workbook }, id) => partOf(workbook, id),
};

const PART: Kind<PartTarget> = {
  name: "CustomXmlPart",
  key: ({ part }) => part.id,
  gone: ({ workbook, part }) => !workbook.parts.includes(part),
  get: { Id: ({ part }) => part.id, NamespaceUri: ({ part }) => part.namespace },
  methods: {
    GetXml: ({ part }) => part.xml,
    SetXml: ({ part }, xml: string) => void Object.assign(part, { xml, namespace: namespaceOf(xml) }),
    Delete: ({ workbook, part }) => void (workbook.parts = workbook.parts.filter((one) => one !== part)),
  },
};

/**
 * Keeps whether the add-in starts with the workbook:
 * learn.microsoft.com/office/dev/add-ins/develop/run-code-on-document-open
 */
export const START_STATE: Kind<HostWorkbook> = {
  name: "AppRuntimePersistenceService",
  methods: {
    GetAppRuntimeStartState: ({ startState }) => startState,
    SetAppRuntimeStartState: (workbook, state: HostWorkbook["startState"]) => void (workbook.startState = state),
  },
};

/** Told once the page is ready for presses on the ribbon. */
export const ADDIN: Kind<HostWorkbook> = {
  name: "AddinInternalService",
  methods: { NotifyActionHandlerReady: () => undefined },
};
