/** Lint rules: TypeScript's recommended set, and the arrows between folders, which only go down. */
import tseslint from "typescript-eslint";

/** Folder → the folders beside it that its files may not import. */
const ABOVE = {
  bank: ["statistics", "experiment", "functions", "workbook", "panel", "workbench", "cli"],
  statistics: ["bank", "experiment", "functions", "workbook", "panel", "workbench", "cli"],
  experiment: ["functions", "workbook/file", "workbook/embedded", "workbook/excel", "panel", "workbench", "cli"],
  functions: ["workbook/file", "workbook/embedded", "workbook/excel", "panel", "workbench", "cli"],
  "workbook/file": ["bank", "statistics", "experiment", "functions", "workbook/embedded", "workbook/excel", "panel", "workbench", "cli"],
  "workbook/embedded": ["bank", "statistics", "experiment", "workbook/file", "workbook/excel", "panel", "workbench", "cli"],
  "workbook/excel": ["bank", "statistics", "experiment", "workbook/file", "workbook/embedded", "panel", "workbench", "cli"],
  panel: ["functions", "workbook/file", "workbook/embedded", "workbook/excel", "workbench", "cli"],
  workbench: ["cli"],
  cli: ["panel", "workbench"],
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
