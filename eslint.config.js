/** Lint rules: TypeScript's recommended set, and the arrows between folders, which only go down. */
import tseslint from "typescript-eslint";

/** Folder → the folders beside it that its files may not import. */
const ABOVE = {
  bank: ["statistics", "experiment", "functions", "workbook", "panel", "workbench", "taskpane", "cli"],
  statistics: ["bank", "experiment", "functions", "workbook", "panel", "workbench", "taskpane", "cli"],
  experiment: ["functions", "workbook/file", "workbook/embedded", "workbook/excel", "panel", "workbench", "taskpane", "cli"],
  functions: ["workbook/file", "workbook/embedded", "workbook/excel", "panel", "workbench", "taskpane", "cli"],
  "workbook/file": ["bank", "statistics", "experiment", "functions", "workbook/embedded", "workbook/excel", "panel", "workbench", "taskpane", "cli"],
  "workbook/embedded": ["bank", "statistics", "experiment", "workbook/file", "workbook/excel", "panel", "workbench", "taskpane", "cli"],
  "workbook/excel": ["bank", "statistics", "experiment", "workbook/file", "workbook/embedded", "panel", "workbench", "taskpane", "cli"],
  panel: ["functions", "workbook/file", "workbook/embedded", "workbook/excel", "workbench", "taskpane", "cli"],
  workbench: ["taskpane", "cli"],
  taskpane: ["workbook/file", "workbook/embedded", "workbench", "cli"],
  cli: ["panel", "workbench", "taskpane"],
};

export default tseslint.config(
  { ignores: ["node_modules/", "dist/", "build/", ".cache/"] },
  ...tseslint.configs.recommended,
  {
    rules: {
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      eqeqeq: ["error", "always"],
      "no-restricted-syntax": [
        "error",
        { selector: "JSXAttribute[name.name='dangerouslySetInnerHTML']", message: "Text from a sheet is never rendered as HTML." },
        { selector: "AssignmentExpression[left.property.name='innerHTML']", message: "Text from a sheet is never rendered as HTML." },
      ],
    },
  },
  ...Object.entries(ABOVE).map(([folder, above]) => ({
    files: [`src/${folder}/**/*.{ts,tsx}`],
    rules: {
      "no-restricted-imports": [
        "error",
        { patterns: above.map((name) => ({ group: [`**/${name}/**`], message: `src/${folder} may not import src/${name}: arrows only go down.` })) },
      ],
    },
  })),
);
