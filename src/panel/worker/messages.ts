/** What page and worker say to each other. */
import type { Answer, JobName, JobInput } from "./jobs";

export interface Order<Name extends JobName = JobName> {
  readonly job: Name;
  readonly question: JobInput<Name>;
}

export type JobMessage<Name extends JobName = JobName> =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "answer"; readonly answer: Answer<Name> }
  | { readonly kind: "failure"; readonly message: string };
