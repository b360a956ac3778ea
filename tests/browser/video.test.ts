/** The Video view in the shipped page: films of a drawn table whose path is known, opened through the file picker. */
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { ARRIVAL, ballAt, bendUntil, CONTACT, CORNERS, filmedTable, pictureOf, RATE, SPEED_AFTER } from "./filmedTable";
import { clickFilm, markCorner, openFilm, roughCorners } from "./filmMarks";
import {
  clearDrafts,
  draftSince,
  kill,
  newContext,
  openBench,
  opened,
  savedBook,
  showView,
  testBench,
} from "./workbenchPage";

const bench = testBench();

const FOLLOWED = { timeout: 120_000 };

async function openVideo(page: Page, width: number): Promise<void> {
  if (width === 320) await page.click("#show-panel");
  await showView(page, "Video");
}

const answer = (page: Page) => page.locator("[data-part=answer]").innerText();
const INTERVAL = /Bends ([\d.]+) in long, ([\d.]+) to ([\d.]+)/;

describe("the Video view", () => {
  it("follows the ball, tells the bend, and on a narrower page writes the row and feeds the claims", async () => {
    const { page, errors } = await openBench(bench);
    await openVideo(page, 1400);
    await page.getByText("It is read on this computer and goes nowhere.").waitFor();
    await openFilm(page, await filmedTable(page, "evening.webm"));
    for (const [i, corner] of CORNERS.entries()) await markCorner(page, i, corner);
    await page.getByText("Mark the ball in a frame before the contact.").waitFor();
    await clickFilm(page, pictureOf(ballAt(0)));
    await page.getByRole("button", { name: "Follow the ball" }).click();
    await page.getByText(/was followed through \d+ frames, to the film's end/).waitFor(FOLLOWED);
    await page.locator("[data-drawing=chord]").waitFor();
    const said = await answer(page);
    const [, bend, low, high] = INTERVAL.exec(said)!.map(Number);
    // A shot of 0.98 in. Corners are within a pixel of some 800, which stretches the table by a share of 0.002 or so.
    const truth = Math.abs(bendUntil(Math.floor((ARRIVAL - 1e-9) * RATE) / RATE));
    const corners = 0.01 * truth;
    expect(low - corners).toBeLessThan(truth);
    expect(high + corners).toBeGreaterThan(truth);
    expect(Math.abs(bend - truth)).toBeLessThan(0.03);
    expect(high - low).toBeLessThan(0.05);
    const [, speed, contact, time] = /([\d.]+) mph after the cushion · contact ([\d.]+) in along the rail at ([\d.]+) s/
      .exec(said)!
      .map(Number);
    expect(Math.abs(speed / SPEED_AFTER - 1)).toBeLessThan(0.02);
    expect(Math.abs(contact - CONTACT.at)).toBeLessThan(0.3);
    expect(Math.abs(time - CONTACT.time)).toBeLessThan(0.005);

    // A length that is known: two clicks, in a picture that is small now, and what the map makes of it.
    await page.setViewportSize({ width: 320, height: 640 });
    await page.click("#show-panel");
    await page.getByText(/^Nothing checks the map yet/).waitFor();
    await page.getByRole("button", { name: "Check length 0/2" }).click();
    for (const [i, x] of [25, 50].entries()) {
      await clickFilm(page, pictureOf({ x, y: 25 }));
      await page.locator(`[data-mark="check ${i}"]`).waitFor();
    }
    const checked = page.getByText(/^The check length of 25 in reads [\d.]+ in: there the map is off by [\d.]+ %/);
    await checked.waitFor();
    const [, reads] = /reads ([\d.]+) in/.exec(await checked.innerText())!.map(Number);
    // A click misses by a pixel or two of some 200.
    expect(Math.abs(reads - 25)).toBeLessThan(0.6);
    await page.getByText(/A click marks the ball's centre in this frame/).waitFor();

    await page.getByRole("button", { name: "Look through all frames" }).click();
    await page.getByText(/frames, the whole film, at .* a second\. No frame is missing/).waitFor(FOLLOWED);
    await page.getByRole("button", { name: 'Write the row to "Trials"' }).click();
    await page
      .getByText(
        /^Written to row \d+ of the sheet "Trials"\. No other cell was touched\..* As a claim: Written to row 2 of the sheet "Claims"\./,
      )
      .waitFor();
    const { sheets } = await savedBook(page);
    const trials = sheets.find(({ name }) => name === "Trials")!;
    const heads = trials.rows[0]!.map((cell) => String(cell?.value ?? ""));
    const last = trials.rows.at(-1)!;
    const under = (heading: string) => last[heads.indexOf(heading)]?.value;
    expect(Number(under("Bend (in)"))).toBeCloseTo(-bend, 2);
    expect(Number(under("Speed (mph)"))).toBeCloseTo(speed, 1);
    const claims = sheets.find(({ name }) => name === "Claims")!;
    const claim = Object.fromEntries(claims.rows[0]!.map((cell, i) => [cell?.value, claims.rows[1]?.[i]?.value]));
    expect(claim).toMatchObject({ "One unbroken recording": "yes" });
    expect(Number(claim["Bend (in)"])).toBeCloseTo(-bend, 2);
    expect(String(claim["Remarks"])).toContain("evening.webm, contact at 0.4");
    // What was written can be taken back, the latest first.
    await page.getByRole("button", { name: /^Undo .*row 2 of the sheet "Claims"/ }).click();
    expect(errors).toEqual([]);
    const [content, room] = await page.evaluate(() => [
      document.querySelector("#panel main")!.scrollWidth,
      document.querySelector("#panel main")!.clientWidth,
    ]);
    expect(content).toBeLessThanOrEqual(room);
    await page.close();
  }, 300_000);
});

describe("a film that is not as it should be", () => {
  it("says where the ball is lost and stops there, at 320 px; what was followed stays", async () => {
    const { page, errors } = await openBench(bench, { width: 320, height: 640 });
    await openVideo(page, 320);
    const lostAt = 0.7;
    await openFilm(page, await filmedTable(page, "lost.webm", { hidden: (time) => time > lostAt }));
    for (const [i, corner] of CORNERS.entries()) await markCorner(page, i, corner);
    await clickFilm(page, pictureOf(ballAt(0)));
    await page.getByRole("button", { name: "Follow the ball" }).click();
    const said = page.getByText(/followed through \d+ frames\. The ball is lost at ([\d.]+) s/);
    await said.waitFor(FOLLOWED);
    const [, time] = /lost at ([\d.]+) s/.exec(await said.innerText())!.map(Number);
    expect(time).toBeGreaterThan(lostAt);
    expect(time).toBeLessThan(lostAt + 0.05);
    // From the part that was seen a bend is told, with its own, wider interval.
    await page.getByText(INTERVAL).waitFor();

    // The file plays 60 frames a second. A camera that took 240 of them saw the ball four times as fast, and the bend
    // as it is.
    const speedOf = async () => Number(/([\d.]+) mph after/.exec(await answer(page))?.[1]);
    const [played, bent] = [await speedOf(), INTERVAL.exec(await answer(page))![1]];
    const rate = page.getByRole("textbox", { name: /^Filmed at/ });
    await rate.fill("240");
    await rate.press("Tab");
    await page
      .getByText(/By the rate that is stated, 240 frames a second, the file plays 4(\.0\d)? times slower/)
      .waitFor();
    await expect.poll(async () => (await speedOf()) / played).toBeCloseTo(4, 1);
    // What is known of friction beforehand is in in/s², so it weighs a little otherwise at another speed.
    expect(Math.abs(Number(INTERVAL.exec(await answer(page))![1]) - Number(bent))).toBeLessThan(0.01);
    await rate.fill("60");
    await rate.press("Tab");
    await page.getByText(/agree with the rate that is stated, 60 frames a second/).waitFor();

    // A hand that misses the corners by more knows less of the bend, and the view says how much of it is theirs.
    const width = async () => {
      const [, , low, high] = INTERVAL.exec(await answer(page))!.map(Number);
      return high - low;
    };
    const usual = await width();
    const corner = page.getByRole("textbox", { name: "A corner is marked within (pixels)" });
    await corner.fill("8");
    await corner.press("Tab");
    await expect.poll(width).toBeGreaterThan(usual);
    await page.getByText("Why?").click();
    await page.getByText(/marked within 8 pixels each way/).waitFor();
    expect(errors).toEqual([]);
    await page.close();
  }, 200_000);

  it("tells no bend without four corners, steps by keys, refuses what it cannot play, and is ended half-way", async () => {
    const { page, errors } = await openBench(bench);
    await openVideo(page, 1400);
    await page
      .locator("input[type=file][aria-label=Film]")
      .setInputFiles({ name: "notes.mp4", mimeType: "video/mp4", buffer: Buffer.from("no film at all") });
    await page.getByText(/"notes\.mp4" cannot be played here\. Browsers play WebM/).waitFor();
    // A rate that changes: every third step is twice as long.
    const times = Array.from({ length: 40 }, (_, i) => (i + Math.floor(i / 3)) / RATE);
    await openFilm(page, await filmedTable(page, "uneven.webm", { times }));
    await roughCorners(page, 3);
    expect(await answer(page)).toContain("3 of 4 so far. Next: rail opposite, left end.");
    await page.getByRole("group", { name: /^uneven\.webm/ }).focus();
    const shown: string[] = [];
    for (let i = 0; i < 4; i++) {
      shown.push(/([\d.]+) of/.exec(await page.getByText(/^Time [\d.]+ of/).innerText())![1]);
      await page.keyboard.press("ArrowRight");
      await page.getByText(new RegExp(`^Time ${times[i + 1].toFixed(3)} of`)).waitFor();
    }
    expect(shown).toEqual(times.slice(0, 4).map((time) => time.toFixed(3)));
    await page.getByRole("button", { name: "Ball 0" }).click();
    await clickFilm(page, pictureOf(ballAt(times[4])));
    await page.getByRole("button", { name: "Look through all frames" }).click();
    await page.getByText(/The recording is broken, or frames were lost: \d+ steps/).waitFor(FOLLOWED);
    expect(await page.getByText(INTERVAL).count()).toBe(0);

    // What was followed before it is ended stays.
    await openFilm(page, await filmedTable(page, "long.webm"));
    await page.getByRole("button", { name: /^Ball \d/ }).click();
    await clickFilm(page, pictureOf(ballAt(0)));
    await page.getByRole("button", { name: "Follow the ball" }).click();
    await page.getByText(/^Following the ball: \d+ %/).waitFor();
    await page.getByRole("button", { name: "Cancel" }).click();
    await page.getByText(/was followed through \d+ frames?, then you ended it/).waitFor();
    await page.getByRole("button", { name: /^Ball [1-9]/ }).waitFor();
    expect(errors.filter((text) => !/Failed to load resource|DEMUXER|ERR_/i.test(text))).toEqual([]);
    await page.close();
  }, 200_000);

  it("comes back a second evening, though the page was killed half-way: marks and places, and the film by hand", async () => {
    clearDrafts(bench);
    const context = await newContext(bench);
    const page = await opened(context, bench.address);
    await openVideo(page, 1400);
    // Half the frames are enough to be kept.
    const times = Array.from({ length: Math.ceil((ARRIVAL * RATE) / 2) }, (_, i) => (2 * i) / RATE);
    const film = await filmedTable(page, "tuesday.webm", { times });
    await openFilm(page, film);
    await roughCorners(page, 4);
    await clickFilm(page, pictureOf(ballAt(0)));
    await page.getByRole("button", { name: "Follow the ball" }).click();
    const began = Date.now();
    await page.getByText(/followed through/).waitFor(FOLLOWED);
    await page.getByText(INTERVAL).waitFor();
    const before = await answer(page);
    await draftSince(bench, began);
    await kill(page);
    const again = await opened(context, bench.address);
    await again.getByRole("button", { name: "Go on with it" }).click();
    await again.getByText(/is in no copy yet/).waitFor({ state: "detached" });
    await openVideo(again, 1400);
    await again
      .getByText(/\d+ places of the ball in "tuesday\.webm" are kept with this workbook; the film is not/)
      .waitFor();
    expect(await answer(again)).toBe(before);
    await openFilm(again, film);
    expect(await again.locator("[data-mark]").count()).toBe(5);
    // Another film: its ball begins anew.
    await openFilm(again, { ...film, name: "wednesday.webm" });
    await again.getByText('The ball\'s places are those of "tuesday.webm".').waitFor();
  }, 300_000);
});
