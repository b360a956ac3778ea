/** What the host does where the documentation says what Excel does, seen through Microsoft's client. */
import { describe, expect, it, onTestFinished } from "vitest";
import { ExcelPort } from "../../src/workbook/excel/excelPort";
import { contractFixture, LOG } from "../workbook/portContract";
import { ExcelFailure } from "./failure";
import { Host, LEAST_SETS } from "./host";
import { connectClient } from "./inNode";
import { HostWorkbook } from "./workbook";

function opened(sets = LEAST_SETS) {
  const host = new Host(HostWorkbook.of(contractFixture()), sets);
  const client = connectClient(host);
  onTestFinished(async () => {
    await host.quiet();
    client.close();
  });
  const run = <T>(batch: (context: Excel.RequestContext) => Promise<T>, delayForCellEdit = true) =>
    client.run({ delayForCellEdit }, batch);
  return { host, workbook: host.workbook, run, port: new ExcelPort(client) };
}
const code = (code: string) => expect.objectContaining({ code });

describe("what the client refuses by itself", () => {
  it("hands out nothing that was not loaded", async () => {
    const { run } = opened();
    const reading = run(async (context) => {
      const sheet = context.workbook.worksheets.getActiveWorksheet();
      await context.sync();
      return sheet.name;
    });
    await expect(reading).rejects.toEqual(code("PropertyNotLoaded"));
  });

  it("knows a null object after a sync", async () => {
    const { run } = opened();
    const none = await run(async (context) => {
      const sheet = context.workbook.worksheets.getItemOrNullObject("No such sheet").load("name");
      await context.sync();
      return sheet.isNullObject;
    });
    expect(none).toBe(true);
  });

  it("refuses a member of a newer requirement set, and the port says so in words", async () => {
    const { port } = opened({ ...LEAST_SETS, ExcelApi: "1.8" });
    await expect(port.read(LOG)).rejects.toThrow(/this version of Excel lacks what Bendbook needs/);
  });
});

describe("a batch that fails in the middle", () => {
  it("has done what went before, says where it stopped, and does nothing after", async () => {
    const { run, workbook } = opened();
    const writing = run(async (context) => {
      const sheet = context.workbook.worksheets.getItem(LOG);
      sheet.getRange("A20").values = [["before"]];
      context.workbook.worksheets.getItem("No such sheet").activate();
      sheet.getRange("A21").values = [["after"]];
      await context.sync();
    });
    await expect(writing).rejects.toEqual(code("ItemNotFound"));
    expect([workbook.sheet(LOG).cell(19, 0)?.value, workbook.sheet(LOG).cell(20, 0)?.value]).toEqual([
      "before",
      undefined,
    ]);
  });
});

describe("cells", () => {
  const written = async (values: unknown[][], format = "General") => {
    const { run, workbook } = opened();
    workbook.sheet(LOG).make(30, 0).format = format;
    await run(async (context) => {
      context.workbook.worksheets.getItem(LOG).getRange("A31:B31").values = values;
      await context.sync();
    });
    return [0, 1].map((column) => workbook.sheet(LOG).cell(30, column));
  };

  it("are left by null and emptied by nothing", async () => {
    const { run, workbook } = opened();
    await run(async (context) => {
      context.workbook.worksheets.getItem(LOG).getRange("E5:F5").values = [[null, ""]];
      await context.sync();
    });
    expect([workbook.sheet(LOG).cell(4, 4)?.value, workbook.sheet(LOG).cell(4, 5)?.value]).toEqual([0.125, ""]);
  });

  it("take what looks like a date for a date, unless an apostrophe or the format says text", async () => {
    expect(await written([["1/8", "'1/8"]])).toMatchObject([{ format: "d-mmm" }, { value: "1/8", format: "General" }]);
    expect((await written([["1/8", ""]], "@"))[0]).toMatchObject({ value: "1/8", format: "@" });
  });

  it("compute what is written, with what a co-author types later", async () => {
    const { run, workbook, host } = opened();
    await run(async (context) => {
      context.workbook.worksheets.getItem(LOG).getRange("A31:B31").formulas = [['=IF(B31="","",1.125-B31)', ""]];
      await context.sync();
    });
    expect(workbook.sheet(LOG).cell(30, 0)?.value).toBe("");
    workbook.type(LOG, 30, 1, 0.125, "Remote");
    await host.quiet();
    expect(workbook.sheet(LOG).cell(30, 0)?.value).toBe(1);
  });
});

describe("what stands in the way", () => {
  it("locked cells and a locked structure are denied, with words from the port", async () => {
    const { port, workbook } = opened();
    workbook.sheet(LOG).isProtected = true;
    await expect(port.fillRow({ sheet: LOG, row: 20, cells: [{ column: 0, value: 1 }] })).rejects.toThrow(
      /is protected/,
    );
    workbook.isProtected = true;
    await expect(port.addSheet({ name: "Results", rows: [] })).rejects.toThrow(/is protected/);
  });

  it("a cell that is typed in makes a batch wait, or fail where it may not wait", async () => {
    const { run, port, host } = opened();
    host.beginCellEdit();
    const hasty = run(async (context) => {
      context.workbook.worksheets.getActiveWorksheet().load("name");
      await context.sync();
    }, false);
    await expect(hasty).rejects.toEqual(code("InvalidOperationInCellEditMode"));
    let name: string | undefined;
    const patient = port.activeSheet().then((said) => (name = said));
    await host.quiet();
    expect(name).toBeUndefined();
    host.endCellEdit();
    await patient;
    expect(name).toBe(LOG);
  });

  it("a sheet that a co-author removes between load and sync is named by the port", async () => {
    const { port, host, workbook } = opened();
    host.refuse = (step) => {
      if (step === "Range.GetRowProperties") workbook.sheets = workbook.sheets.filter(({ name }) => name !== LOG);
      return undefined;
    };
    await expect(port.read(LOG)).rejects.toThrow(`There is no sheet "${LOG}" in this workbook`);
  });

  it("requests and answers above 5 MB are refused as a whole", async () => {
    const { run, workbook } = opened();
    const long = "x".repeat(6_000_000);
    const writing = run(async (context) => {
      context.workbook.worksheets.getItem(LOG).getRange("A31").values = [[long]];
      await context.sync();
    });
    await expect(writing).rejects.toEqual(code("RequestPayloadSizeLimitExceeded"));
    workbook.sheet(LOG).make(30, 0).value = long;
    const reading = run(async (context) => {
      context.workbook.worksheets.getItem(LOG).getRange("A31").load("values");
      await context.sync();
    });
    await expect(reading).rejects.toEqual(code("ResponsePayloadSizeLimitExceeded"));
  });

  it("any refusal of Excel reaches who asked with its code", async () => {
    const { host, run } = opened();
    host.refuse = () => new ExcelFailure("ActivityLimitReached", "Too much at once.");
    const asking = run(async (context) => {
      context.workbook.worksheets.getActiveWorksheet().load("name");
      await context.sync();
    });
    await expect(asking).rejects.toEqual(code("ActivityLimitReached"));
  });
});

describe("rows that a filter hides", () => {
  it("are hidden rows; a range of both kinds says neither", async () => {
    const { run, workbook } = opened();
    workbook.sheet(LOG).hiddenRows.add(7);
    const said = await run(async (context) => {
      const sheet = context.workbook.worksheets.getItem(LOG);
      const [hidden, mixed, shown] = ["A7:A8", "A6:A8", "A1:A5"].map((at) => sheet.getRange(at).load("rowHidden"));
      await context.sync();
      return [hidden, mixed, shown].map((range) => range?.rowHidden);
    });
    expect(said).toEqual([true, null, false]);
  });
});

describe("what the host does not know", () => {
  it("is heard, whatever the program makes of the answer", async () => {
    const { host, run } = opened();
    const heard: string[] = [];
    host.cry = ({ message }) => heard.push(message);
    const asking = run(async (context) => {
      context.workbook.worksheets.getItem(LOG).getRange("A1").load("text");
      await context.sync();
    });
    await expect(asking).rejects.toThrow("of Range the property Text");
    expect(heard).toEqual([expect.stringContaining("does not know of Range the property Text")]);
    expect(host.unknown).toHaveLength(1);
  });
});
