/** How far a job is, and the button that ends it. */
import { Button, ProgressBar } from "@fluentui/react-components";

interface Props {
  /** What is being done, as in "Fitting". */
  readonly doing: string;
  readonly share: number;
  readonly onCancel: () => void;
}

export function JobBar({ doing, share, onCancel }: Props) {
  const percent = Math.round(100 * share);
  return (
    <div style={{ display: "grid", gridTemplateColumns: "minmax(0, 1fr) auto", gap: "4px 12px", alignItems: "center" }}>
      <ProgressBar value={share > 0 ? share : undefined} aria-label={doing} />
      <Button size="small" onClick={onCancel}>
        Cancel
      </Button>
      <span>{share > 0 ? `${doing}: ${percent} %` : `${doing} …`}</span>
    </div>
  );
}
