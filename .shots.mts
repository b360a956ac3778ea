import { startBench, openBench } from "./tests/browser/workbenchPage";
const file = process.argv[2] || undefined;
const bench = await startBench(file);
for (const [width, dark] of [[1400,false],[360,false],[320,true]] as const) {
  const { page, errors } = await openBench(bench, { width, height: width < 800 ? 640 : 900, dark });
  if (width < 800) await page.click("#show-panel");
  await page.locator("#panel").getByRole("tab", { name: "Shoot" }).click();
  await page.waitForTimeout(1500);
  const snap = async (n: string, full = false) => {
    await page.screenshot({ path: `/tmp/work-b/${n}-${width}.png` });
  };
  await snap("a");
  const ev = page.locator("[data-part=evening] button").first();
  if (await ev.count()) await ev.click();
  for (const o of ["cleared", "cleared", "hit obstacle", "made", "missed", "hit obstacle"]) { const b = page.locator(`[data-outcome="${o}"]`); if (await b.count()) { await b.click(); await page.waitForTimeout(900);} }
  await page.waitForTimeout(800);
  await snap("b");
  await page.evaluate(() => { const m = document.querySelector("[data-part=answer]"); m?.scrollIntoView(); });
  await page.waitForTimeout(200);
  await snap("c");
  for (const s of await page.locator("details summary").all()) { await s.click(); }
  await page.evaluate(() => document.querySelector("[data-part=readings]")?.scrollIntoView());
  await page.waitForTimeout(200); await snap("d");
  await page.evaluate(() => document.querySelector("[data-part=changed]")?.scrollIntoView());
  await page.waitForTimeout(200); await snap("e");
  console.log(width, errors);
  await page.close();
}
await bench.close();
