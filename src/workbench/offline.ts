/**
 * Keeps the page in the browser, where it stands on a web server of files: offlineWorker.ts does it, and this says so.
 * A server on this machine keeps its own version and its drafts, and needs none.
 */
import { messageOf } from "../panel/frame/messageOf";
import type { Page } from "./page";

/** Between two looks for a new version, in ms. */
const LOOK_EVERY = 3_600_000;
/**
 * How long the old version's worker may take to go, in ms, before the page is opened anew: it does not go while it is
 * answering, and with this page its answers end.
 */
const GOES_IN = 2_000;
/** Noted for the page that comes after this one: its user wants the new version. */
const WANTED = "bendbook new version";

/** The worker's file, where the folder that the page stands in has one. */
function workerFile(): string | undefined {
  return document.querySelector<HTMLMetaElement>('meta[name="bendbook-offline"]')?.content;
}

/** @param mayLeave asks what becomes of unsaved changes; true when the page may be opened anew */
export async function keepOffline(page: Page, mayLeave: () => Promise<boolean>): Promise<void> {
  const file = workerFile();
  if (file === undefined) return;
  const close = ["Close", async () => true] as const;
  if (!("serviceWorker" in navigator))
    return void page.offer("This browser keeps no pages: Bendbook opens here only with a connection.", [close]);
  const container = navigator.serviceWorker;
  // Without one the page came from the server, and the first worker takes it over: that is no new version.
  const first = container.controller === null;
  try {
    const registration = await container.register(file, { updateViaCache: "none" });
    if (first) {
      await active(registration);
      page.offer("Bendbook is kept in this browser now: this page opens and computes without a connection, too.", [
        close,
      ]);
    }
    noteNewVersions(registration, page, mayLeave);
  } catch (problem) {
    // Without a connection there is nothing to compare with, and what is kept serves.
    if (first && navigator.onLine)
      page.offer(`Bendbook could not be kept for use without a connection: ${messageOf(problem)}.`, [close]);
  }
}

/** Waits for the worker's first version. @throws Error where one of its files cannot be had as it was written */
function active({ installing, waiting, active: there }: ServiceWorkerRegistration): Promise<void> {
  const worker = installing ?? waiting ?? there;
  return new Promise((resolve, reject) => {
    const look = () => {
      if (worker?.state === "activated") resolve();
      if (worker?.state === "redundant")
        reject(new Error("a file of this page is missing on the server, or is not as it was written"));
    };
    worker?.addEventListener("statechange", look);
    look();
  });
}

/** Says once for each new version that it is there; it takes the page only when the user says so. */
function noteNewVersions(registration: ServiceWorkerRegistration, page: Page, mayLeave: () => Promise<boolean>): void {
  let said: (() => void) | undefined;
  let asked = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // Another page may have taken the new version; this one goes on until its user comes to it.
    if (asked) location.reload();
  });
  const take = () => {
    asked = true;
    navigator.serviceWorker.controller?.postMessage("let go");
    registration.waiting?.postMessage("take over");
  };
  if (sessionStorage.getItem(WANTED) !== null) take();
  sessionStorage.removeItem(WANTED);
  const tell = () => {
    if (!registration.waiting) return;
    said?.();
    said = page.offer("A new version of Bendbook is here. This page goes on with the old one until you take the new.", [
      [
        "Take the new version",
        async () => {
          if (!(await mayLeave())) return false;
          take();
          const anew = () => {
            sessionStorage.setItem(WANTED, "yes");
            location.reload();
          };
          setTimeout(anew, registration.waiting ? GOES_IN : 0);
          return true;
        },
      ],
      ["Later", async () => true],
    ]);
  };
  const watch = (worker: ServiceWorker | null) =>
    worker?.addEventListener("statechange", () => worker.state === "installed" && tell());
  registration.addEventListener("updatefound", () => watch(registration.installing));
  watch(registration.installing);
  tell();
  const look = () => void registration.update().catch(() => {});
  addEventListener("online", look);
  setInterval(look, LOOK_EVERY);
}
