/**
 * Excel's own way to read functions.json anew, for a workbook, when it is opened next: the setting of Microsoft's page
 * "Troubleshoot custom functions", on clearing the cache when the add-in runs. The page has it for mending faults, and
 * switched off again after.
 */
const SETTING = "Office.ForceRefreshCustomFunctionsCache";

/** @throws Error where Excel does not keep it */
export function refreshAtNextOpening(): Promise<void> {
  return keep(true);
}

/** To be called at an opening that shows nothing wrong. */
export async function noMoreRefresh(): Promise<void> {
  if (Office.context.document.settings.get(SETTING) === true) await keep(false);
}

function keep(wanted: boolean): Promise<void> {
  const { settings } = Office.context.document;
  settings.set(SETTING, wanted);
  return new Promise((done, fail) =>
    settings.saveAsync(({ status, error }) =>
      status === Office.AsyncResultStatus.Succeeded ? done() : fail(new Error(error?.message ?? "no reason given")),
    ),
  );
}
