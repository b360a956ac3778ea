/** What the sections share in looks. */
import { makeStyles, tokens } from "@fluentui/react-components";

export const useSectionStyles = makeStyles({
  stack: {
    display: "flex",
    flexDirection: "column",
    gap: "12px",
    paddingBottom: "8px",
    minWidth: 0,
    "& [role=combobox]": { minWidth: 0 },
    "& .fui-Dropdown": { minWidth: 0 },
  },
  table: {
    borderCollapse: "collapse",
    width: "100%",
    fontSize: tokens.fontSizeBase200,
    "& th, & td": {
      textAlign: "left",
      padding: "4px 6px 4px 0",
      borderBottom: `1px solid ${tokens.colorNeutralStroke2}`,
      verticalAlign: "top",
      fontWeight: tokens.fontWeightRegular,
      overflowWrap: "break-word",
    },
    "& thead th": { fontWeight: tokens.fontWeightSemibold },
    "& td.number": {
      textAlign: "right",
      fontVariantNumeric: "tabular-nums",
      whiteSpace: "nowrap",
      overflowWrap: "normal",
    },
    "& th.number": { textAlign: "right" },
    "& tbody th": { minWidth: "84px" },
    // In a narrow room each row's name stands over its numbers, so that none of them is out of sight.
    "@container (max-width: 350px)": {
      "& tr": { display: "flex", flexWrap: "wrap", borderBottom: `1px solid ${tokens.colorNeutralStroke2}` },
      "& th, & td": { borderBottomStyle: "none" },
      "& th:first-child": { boxSizing: "border-box", flex: "1 0 100%", paddingBottom: 0 },
      "& th.number, & td.number": { flex: "1 1 0", minWidth: 0, padding: "2px 4px 4px 0" },
    },
  },
  /** What a view says in one line, beside its picture. */
  line: { margin: 0, fontWeight: tokens.fontWeightSemibold },
  /** Fields side by side, as many as there is room for. */
  fields: {
    display: "grid",
    gridTemplateColumns: "repeat(auto-fit, minmax(130px, 1fr))",
    gap: "8px 12px",
    alignItems: "end",
  },
  keys: {
    margin: 0,
    fontSize: tokens.fontSizeBase200,
    "& > div": { display: "flex", flexWrap: "wrap", columnGap: "8px", padding: "2px 0" },
    "& dt": { fontWeight: tokens.fontWeightSemibold },
    "& dd": { margin: 0 },
  },
  scroll: { overflowX: "auto", maxWidth: "100%" },
  /** Tables in it mind how wide it is. */
  room: { containerType: "inline-size" },
  unit: { width: "64px", minWidth: 0 },
  list: { listStyle: "none", margin: 0, padding: 0, maxHeight: "260px", overflowY: "auto" },
  plainList: { listStyle: "none", margin: "4px 0 0", padding: 0 },
  entry: {
    width: "100%",
    justifyContent: "flex-start",
    textAlign: "left",
    fontWeight: tokens.fontWeightRegular,
    padding: "4px",
    minWidth: 0,
    overflowWrap: "anywhere",
  },
  note: { color: tokens.colorNeutralForeground2, fontSize: tokens.fontSizeBase200, margin: 0 },
  subhead: { fontSize: tokens.fontSizeBase300, fontWeight: tokens.fontWeightSemibold, margin: "8px 0 4px" },
  driver: {
    display: "flex",
    flexWrap: "wrap",
    alignItems: "center",
    columnGap: "4px",
    borderBottom: `1px solid ${tokens.colorNeutralStroke2}`,
    paddingBottom: "4px",
  },
  driverName: { flex: "1 1 100%" },
  driverMore: { display: "flex", flexWrap: "wrap", gap: "8px", paddingLeft: "28px", alignItems: "center" },
  sentence: { margin: "0 0 8px", lineHeight: tokens.lineHeightBase300 },
  quiet: { color: tokens.colorNeutralForeground2 },
});
