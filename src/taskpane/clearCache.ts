/**
 * How the cache is cleared in which Excel keeps the list of functions and old pages, by Office's names of platforms.
 * After Microsoft's pages "Clear the Office cache" (of June 2026) and "Troubleshoot development errors".
 */
export const CLEARING = {
  PC: 'Choose File, Options, Trust Center, Trust Center Settings, Trusted Add-in Catalogs. Tick "Next time Office starts, clear all previously-started web add-ins cache" (from version 2108 on), then OK. Close all Office programs and open Excel again.',
  Mac: "Open the menu at the top right of the add-in's pane and choose Clear Web Cache. Then close Excel and open it again.",
  OfficeOnline:
    "Clear the browser's cache for the site of Excel and load the page again. Where the manifest was uploaded by hand, upload it again.",
} as const;
