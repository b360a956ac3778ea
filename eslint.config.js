/** Lint rules: TypeScript's recommended set, the arrows between rooms, and a few habits of this house. */
import officeAddins from "eslint-plugin-office-addins";
import tseslint from "typescript-eslint";
import rooms from "./scripts/lint/arrows.mjs";

const plainTextOnly = [
  {
    selector: "JSXAttribute[name.name='dangerouslySetInnerHTML']",
    message: "Text from a sheet is never rendered as HTML.",
  },
  {
    selector: "AssignmentExpression[left.property.name='innerHTML']",
    message: "Text from a sheet is never rendered as HTML.",
  },
];

// TypeScript checks `satisfies never`, so no lint with types is needed, which takes twice as long.
const everyCase = {
  selector: "SwitchStatement:not(:has(> SwitchCase[test=null]))",
  message:
    "A switch says what else there may be in its default; where nothing may: `default: return one satisfies never`.",
};

export default tseslint.config(
  { ignores: ["node_modules/", "dist/", "build/", ".cache/"] },
  ...tseslint.configs.recommended,
  {
    rules: {
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      eqeqeq: ["error", "always"],
      // Code is the formatter's; this holds comments. A sentence in a string stays in one piece, and so does an example.
      "max-len": [
        "error",
        {
          code: 120,
          ignoreStrings: true,
          ignoreTemplateLiterals: true,
          ignoreRegExpLiterals: true,
          ignoreUrls: true,
          ignorePattern: "@example|eslint-disable",
        },
      ],
      "no-restricted-syntax": ["error", ...plainTextOnly],
    },
  },
  {
    files: ["src/**/*.{ts,tsx}"],
    plugins: { rooms },
    rules: {
      "rooms/arrows": "error",
      "no-restricted-syntax": ["error", ...plainTextOnly, everyCase],
    },
  },
  {
    // Excel takes a function's help from its comment, line by line: a sentence stays on its line.
    files: ["src/functions/functions.ts"],
    rules: { "max-len": "off" },
  },
  {
    files: ["src/**/*.{ts,tsx}"],
    rules: { "@typescript-eslint/no-non-null-assertion": "error" },
  },
  {
    // Office's own rules for load and sync, where Office is spoken to.
    files: ["src/{workbook/excel,hosts/excel,taskpane}/**/*.ts"],
    plugins: { "office-addins": officeAddins },
    rules: Object.fromEntries(Object.keys(officeAddins.rules).map((name) => [`office-addins/${name}`, "error"])),
  },
);
