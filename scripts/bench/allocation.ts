/** What a piece of work allocates, by V8's sampling heap profiler: also what is collected again at once. */
import { Session, type HeapProfiler } from "node:inspector";

export interface Allocation {
  readonly bytes: number;
  /** Bytes by function, its room and file, the largest first. */
  readonly places: readonly { readonly name: string; readonly bytes: number }[];
}

/** One sample every so many bytes, on average. */
const INTERVAL = 512;

export async function allocationOf(work: () => void): Promise<Allocation> {
  const session = new Session();
  session.connect();
  const post = <T>(method: string, parameters?: object) =>
    new Promise<T>((resolve, reject) =>
      session.post(method, parameters, (problem, result) => (problem ? reject(problem) : resolve(result as T))),
    );
  await post("HeapProfiler.startSampling", {
    samplingInterval: INTERVAL,
    includeObjectsCollectedByMajorGC: true,
    includeObjectsCollectedByMinorGC: true,
  });
  work();
  const { profile } = await post<HeapProfiler.StopSamplingReturnType>("HeapProfiler.stopSampling");
  session.disconnect();
  const places = new Map<string, number>();
  const visit = ({ callFrame: { functionName, url }, selfSize, children }: HeapProfiler.SamplingHeapProfileNode) => {
    const name = `${functionName || "(top)"} ${url.split("/").slice(-2).join("/")}`.trim();
    places.set(name, (places.get(name) ?? 0) + selfSize);
    children.forEach(visit);
  };
  visit(profile.head);
  const sorted = [...places].map(([name, bytes]) => ({ name, bytes })).sort((a, b) => b.bytes - a.bytes);
  return { bytes: sorted.reduce((sum, { bytes }) => sum + bytes, 0), places: sorted };
}
