/** Chooses a film from the disk. */
import { Button } from "@fluentui/react-components";
import { useRef } from "react";

interface Props {
  /** Whether one is open already. */
  readonly again: boolean;
  onChoose(file: File): void;
}

export function FilmChooser({ again, onChoose }: Props) {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <input
        ref={picker}
        type="file"
        accept="video/*,.mp4,.webm,.mov,.m4v,.mkv"
        hidden
        aria-label="Film"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = "";
          if (file) onChoose(file);
        }}
      />
      <Button appearance={again ? "secondary" : "primary"} onClick={() => picker.current?.click()}>
        {again ? "Open another film" : "Open a film"}
      </Button>
    </>
  );
}
