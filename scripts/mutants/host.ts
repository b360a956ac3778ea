/**
 * A process that holds the test runner and is asked for one test file at a time, with one source replaced in memory: no
 * file on the disk changes, and whoever waits too long ends the process.
 */
import { dirname, join } from "node:path";
import { createVitest, type Vitest } from "vitest/node";
import { impactInOnePiece } from "../impactInOnePiece.mjs";
import { root } from "../install.mjs";

/** A request: run this test with this text in place of the source's. */
export interface Ask {
  readonly test: string;
  readonly source?: { readonly path: string; readonly text: string };
}

/** Whether every test of the file passed, or what went wrong first. */
export type Told = { readonly ready: true } | { readonly passed: boolean; readonly failure?: string };

let replaced: Ask["source"];
const IMPACT = join(root, "src", "bank", "impact", "noseImpulse.ts");

/** What has to be read anew with a source: the impact's parts are read as one piece. */
const readWith = (path: string) => (dirname(path) === dirname(IMPACT) ? [path, IMPACT] : [path]);

const vitest: Vitest = await createVitest(
  "test",
  {
    config: false,
    watch: false,
    bail: 1,
    maxWorkers: 1,
    include: ["tests/**/*.test.ts"],
    // Whoever asks watches the time.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    reporters: [{}],
    expect: { poll: { timeout: 20_000, interval: 50 } },
  },
  {
    plugins: [
      impactInOnePiece((path) => (path === replaced?.path ? replaced?.text : undefined)),
      {
        name: "one source replaced",
        enforce: "pre",
        load: (id) => (id.split("?")[0] === replaced?.path ? replaced?.text : undefined),
      },
    ],
  },
);
await vitest.standalone();

async function run({ test, source }: Ask): Promise<Told> {
  const before = replaced?.path;
  replaced = source;
  for (const path of new Set([before, source?.path].flatMap((one) => (one === undefined ? [] : readWith(one)))))
    vitest.invalidateFile(path);
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications([
    vitest.getRootProject().createSpecification(test),
  ]);
  // Files of earlier requests are told again.
  const failed = testModules.flatMap((file) =>
    file.ok() || !file.moduleId.endsWith(test)
      ? []
      : [[...file.children.allTests("failed")][0]?.fullName ?? "the file as a whole"],
  );
  if (unhandledErrors.length > 0) failed.push(`an error outside any test: ${String(unhandledErrors[0])}`);
  return failed.length === 0 ? { passed: true } : { passed: false, failure: failed[0] };
}

process.on("message", (ask: Ask) => {
  void run(ask).then(
    (told) => process.send?.(told),
    (problem: unknown) => process.send?.({ passed: false, failure: String(problem) } satisfies Told),
  );
});
process.send?.({ ready: true } satisfies Told);
