/**
 * The way about: the stages of the work in one row, the views of the one in front below, and what is next. The tabs are
 * plain elements with the arrow keys of tabs: helpers that a library hides beside its own would take the focus.
 */
import { makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import { useRef } from "react";
import type { NextStep } from "../../experiment/start/nextStep";
import { arrowKeys } from "./arrowKeys";
import { HELP } from "./help";
import type { ViewName } from "./settings";
import { STAGE_OF, STAGES, viewsOf, type Stage } from "./stages";

interface Props {
  readonly view: ViewName;
  readonly next: NextStep | undefined;
  readonly onView: (view: ViewName) => void;
}

const TOUCH = "@media (pointer: coarse)";

const useStyles = makeStyles({
  stages: { display: "flex", margin: "0 -12px", borderBottom: `1px solid ${tokens.colorNeutralStroke2}` },
  tabs: { display: "flex", flexWrap: "wrap", gap: "4px", padding: "6px 0 2px" },
  button: {
    font: "inherit",
    color: tokens.colorNeutralForeground2,
    backgroundColor: "transparent",
    border: "0 solid transparent",
    cursor: "pointer",
    ":hover": { color: tokens.colorNeutralForeground1 },
    ":focus-visible": { outline: `2px solid ${tokens.colorStrokeFocus2}`, outlineOffset: "-2px" },
    [TOUCH]: { minHeight: "44px" },
  },
  stage: { flex: "1 1 0", minWidth: 0, minHeight: "34px", padding: "0 2px", borderBottomWidth: "3px" },
  tab: {
    fontSize: tokens.fontSizeBase200,
    minHeight: "26px",
    padding: "0 8px",
    whiteSpace: "nowrap",
    borderRadius: tokens.borderRadiusMedium,
    border: `1px solid ${tokens.colorNeutralStroke2}`,
  },
  front: {
    color: tokens.colorNeutralForeground1,
    fontWeight: tokens.fontWeightSemibold,
    borderBottomColor: tokens.colorCompoundBrandStroke,
  },
  chosen: {
    color: tokens.colorNeutralForeground1,
    fontWeight: tokens.fontWeightSemibold,
    backgroundColor: tokens.colorNeutralBackground1Selected,
    border: `1px solid ${tokens.colorCompoundBrandStroke}`,
  },
  next: {
    display: "block",
    width: "100%",
    minHeight: "24px",
    padding: 0,
    margin: 0,
    textAlign: "left",
    fontSize: tokens.fontSizeBase200,
    lineHeight: tokens.lineHeightBase300,
    overflowWrap: "anywhere",
  },
});

export function ViewTabs({ view, next, onView }: Props) {
  const styles = useStyles();
  const stage = STAGE_OF[view];
  const views = viewsOf(stage);
  const last = useRef<Partial<Record<Stage, ViewName>>>({});
  last.current[stage] = view;
  return (
    <>
      <nav className={styles.stages} aria-label="Stages of the work">
        {STAGES.map((name) => (
          <button
            key={name}
            type="button"
            className={mergeClasses(styles.button, styles.stage, name === stage && styles.front)}
            aria-current={name === stage ? "true" : undefined}
            onClick={() => {
              const to = last.current[name] ?? viewsOf(name)[0];
              if (to && name !== stage) onView(to);
            }}
          >
            {name}
          </button>
        ))}
      </nav>
      <div role="tablist" aria-label="Views" className={styles.tabs} onKeyDown={arrowKeys()}>
        {views.map((name) => (
          <button
            key={name}
            type="button"
            role="tab"
            id={`tab-${name}`}
            aria-selected={name === view}
            aria-controls={name === view ? "view-in-front" : undefined}
            tabIndex={name === view ? 0 : -1}
            className={mergeClasses(styles.button, styles.tab, name === view && styles.chosen)}
            onClick={() => onView(name)}
          >
            {HELP[name].name}
          </button>
        ))}
      </div>
      {next && <NextLine next={next} view={view} onView={onView} />}
    </>
  );
}

function NextLine({ next: { at, text }, view, onView }: Props & { readonly next: NextStep }) {
  const styles = useStyles();
  const line = `Next: ${text}`;
  return at === view ? (
    <p className={styles.next} data-part="next-step">
      {line}
    </p>
  ) : (
    <button
      type="button"
      className={mergeClasses(styles.button, styles.next)}
      data-part="next-step"
      onClick={() => onView(at)}
    >
      {`${line} ›`}
    </button>
  );
}
