/**
 * What makes a session, the order of the shots, a second reading and settings of one's own, by keyboard in the shipped
 * page: choices, wrong things typed, undo, other units, and the copy opened again.
 */
import type { Page } from "playwright-core";
import { expect } from "vitest";
import { randomOf } from "../../src/statistics/numeric/drawer";
import { gridJourney as journey } from "./journey";
import { openStep } from "./workbenchPage";

/** Invented: two days of two sessions that are counted anew, a drift within each, humidity read twice. */
const random = randomOf(31);
const lines = Array.from({ length: 48 }, (_, i) => {
  const [day, session] = [Math.floor(i / 24), Math.floor(i / 12) % 2];
  const humidity = 50 + 8 * random.normal();
  const [first, second] = [humidity + 2 * random.normal(), humidity + 2 * random.normal()];
  const speed = 4 + 4 * random.uniform();
  const bend = 0.5 + 0.03 * speed + 0.05 * session + 0.01 * (i % 12) + 0.02 * random.normal();
  return [
    i + 1,
    `2026-05-0${day + 1}`,
    session + 1,
    speed.toFixed(2),
    first.toFixed(1),
    second.toFixed(1),
    bend.toFixed(4),
  ];
});
const csv = [
  "Trial,Date,Session,Speed (mph),Humidity (%),Hygrometer (%),Bend (in)",
  ...lines.map((line) => line.join(",")),
];

/** Chooses in a list by keys alone. */
async function byKeys(page: Page, field: string, option: string): Promise<void> {
  const box = page.locator("#panel").getByRole("combobox", { name: field });
  await box.press("Enter");
  await box.and(page.locator("[aria-expanded=true]")).waitFor();
  await box.press("Home");
  const active = () =>
    box.evaluate((one) => document.getElementById(one.getAttribute("aria-activedescendant") ?? "")?.textContent ?? "");
  for (let i = 0; i < 20 && (await active()) !== option; i++) await box.press("ArrowDown");
  expect(await active()).toBe(option);
  await box.press("Enter");
  // A list of several stays open.
  if ((await box.getAttribute("aria-expanded")) === "true") await box.press("Escape");
}

const value = (page: Page, field: string) => page.locator("#panel").getByRole("combobox", { name: field }).innerText();

journey("analysis of sessions", undefined, "names sessions, order, readings and settings by keyboard", async (page) => {
  const load = (name: string, buffer: Buffer) => page.setInputFiles("#file", { name, mimeType: "text/csv", buffer });
  await load("evenings.csv", Buffer.from(csv.join("\n")));
  await page.waitForSelector('body[data-ready="evenings.csv"]');
  await openStep(page, "Why");
  const said = page.locator("[data-part=sessions]");
  await said.getByText("Bend (in) differs from one session to the next").waitFor();
  await openStep(page, "Choose a question");

  // What makes a session was noticed as date and session; the date alone makes two, and undo brings four back.
  expect(await value(page, "What makes a session")).toBe("Date and Session");
  await byKeys(page, "What makes a session", "Session");
  await said.getByText("The 48 shots come from 2 dates").waitFor();
  await page.locator("#panel").getByRole("button", { name: "Undo the last choice in the panel" }).press("Enter");
  await said.getByText("Bend (in) differs from one session to the next").waitFor();

  await openStep(page, "Choose a question");

  // The order was noticed by its heading, and what drifts is said under Trust.
  expect(await value(page, "Order of the shots")).toBe("Trial");
  await openStep(page, "Trust the answer");
  const order = page.getByRole("region", { name: "Does the order of the shots matter?" });
  await order.getByText(/^Within a session bend drifts: from one shot to the next by 0\.0\d+ in/).waitFor();
  await byKeys(page, "Order of the shots", "not asked");
  await expect.poll(() => order.count()).toBe(0);
  await byKeys(page, "Order of the shots", "Trial");
  await order.getByText("By Trial.").waitFor();

  // A second reading of another heading.
  expect(await value(page, "Second reading of Humidity (%)")).toBe("none");
  await byKeys(page, "Second reading of Humidity (%)", "Hygrometer (%)");
  const sentences = page.locator("[data-part=sentences]");
  await sentences.getByText(/^Humidity was read twice in 48 rows/).waitFor();

  // Settings: what is wrong stays as typed, with the reason.
  await openStep(page, "At settings of yours");
  const speed = page.locator("#panel").getByRole("textbox", { name: "Speed (mph)", exact: true });
  await speed.fill("fast");
  await page.getByText('Speed is "fast": give a number in mph').waitFor();
  await speed.fill("7");
  const predicted = page.locator("[data-part=predicted-at]");
  await predicted
    .getByText(/^At humidity .* and speed 7 mph .* Of a new session, which is shifted like the others/)
    .waitFor();

  // In other units the same choices hold.
  await openStep(page, "Choose rows");
  const unit = page.locator("#panel").getByRole("textbox", { name: "Unit of Bend" });
  await unit.fill("mm");
  await predicted.getByText(/bend is [\d.]+ mm on average over sessions/).waitFor();
  await order.getByText(/from one shot to the next by 0\.0\d+ mm/).waitFor();
  await unit.fill("in");
  await predicted.getByText(/bend is [\d.]+ in on average over sessions/).waitFor();

  // A copy, opened again, has every choice.
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#save").press("Enter")]);
  await page.setInputFiles("#file", await download.path().then((path) => path));
  await page.waitForSelector('body[data-ready]:not([data-ready="evenings.csv"])');
  await openStep(page, "At settings of yours");
  await predicted.getByText(/^At humidity .* and speed 7 mph/).waitFor();
  await openStep(page, "Choose a question");
  expect(await value(page, "Second reading of Humidity (%)")).toBe("Hygrometer (%)");
  expect(await value(page, "Order of the shots")).toBe("Trial");
});
