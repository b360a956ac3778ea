/** Lint rules: TypeScript's recommended set, the arrows between rooms, and a few habits of this house. */
import tseslint from "typescript-eslint";
import rooms from "./scripts/lint/arrows.mjs";

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
        {
          selector: "JSXAttribute[name.name='dangerouslySetInnerHTML']",
          message: "Text from a sheet is never rendered as HTML.",
        },
        {
          selector: "AssignmentExpression[left.property.name='innerHTML']",
          message: "Text from a sheet is never rendered as HTML.",
        },
      ],
    },
  },
  { files: ["src/**/*.{ts,tsx}"], plugins: { rooms }, rules: { "rooms/arrows": "error" } },
);
