/**
 * A process that holds the test runner and is asked for one test file at a time, with sources replaced in memory: no
 * file of the project changes, and whoever waits too long ends the process.
 */
import { dirname, join } from "node:path";
import { createVitest, type Vitest } from "vitest/node";
import { impactInOnePiece } from "../impactInOnePiece.mjs";
import { root } from "../install.mjs";
import { bundleCommand } from "./commandBundle";

/** A request: run this test with these texts in place of the sources'. */
export interface Ask {
  readonly test: string;
  readonly sources: readonly { readonly path: string; readonly text: string }[];
  /** Whether the test calls the command line's bundle, which then is made from these texts, too. */
  readonly bundle: boolean;
  /** Where the places that are come to are written down. */
  readonly reached?: string;
}

/** Whether every test of the file passed, or what went wrong first. */
export type Told = { readonly ready: true } | { readonly passed: boolean; readonly failure?: string };

let replaced: ReadonlyMap<string, string> = new Map();
const textOf = (path: string) => replaced.get(path);
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
    setupFiles: [join(import.meta.dirname, "reached.mjs")],
    // Whoever asks watches the time.
    testTimeout: 3_600_000,
    hookTimeout: 3_600_000,
    reporters: [{}],
    expect: { poll: { timeout: 20_000, interval: 50 } },
  },
  {
    plugins: [
      impactInOnePiece(textOf),
      { name: "sources replaced", enforce: "pre", load: (id) => textOf(id.split("?")[0] ?? id) },
    ],
  },
);
await vitest.standalone();

/** A test reads it from its process's environment. */
function tell(name: string, value: string | undefined): void {
  if (value === undefined) delete process.env[name];
  else process.env[name] = value;
}

async function run({ test, sources, bundle, reached }: Ask): Promise<Told> {
  const before = replaced.keys();
  replaced = new Map(sources.map(({ path, text }) => [path, text]));
  for (const path of new Set([...before, ...replaced.keys()].flatMap(readWith))) vitest.invalidateFile(path);
  tell("BENDBOOK_REACHED", reached);
  tell("BENDBOOK_COMMAND", bundle && sources.length > 0 ? await bundleCommand(textOf) : undefined);
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications([
    vitest.getRootProject().createSpecification(join(root, test)),
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
