/**
 * Bundles the pages into dist/. `webpack --mode production` for use, `--mode development` while working on them.
 */
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import CopyPlugin from "copy-webpack-plugin";
import HtmlWebpackPlugin from "html-webpack-plugin";
import MiniCssExtractPlugin from "mini-css-extract-plugin";
import TerserPlugin from "terser-webpack-plugin";
import { FunctionsHelp } from "./scripts/functionsHelp.mjs";
import { Notices } from "./scripts/notices.mjs";

const root = fileURLToPath(new URL(".", import.meta.url));

/** Each page: an entry script and an HTML shell. */
const pages = [
  { name: "workbench", script: "./src/workbench/main.ts", shell: "./src/workbench/index.html" },
  { name: "taskpane", script: "./src/taskpane/main.ts", shell: "./src/taskpane/taskpane.html" },
];

/** What Excel waits for before functions compute and the pane stands. */
const WAITED_FOR = /^(functions|taskpane\.[0-9a-f]+)\.js$/;

/** `--mode` of the command line, or what scripts/dev.ts gives. @returns {import("webpack").Configuration} */
export default ({ pages: folder } = {}, { mode = "production" } = {}) => {
  const forUse = mode === "production";
  return {
    mode,
    context: root,
    entry: {
      // Loaded before the rest of the pane, which takes from it what both need.
      functions: "./src/taskpane/functions.ts",
      ...Object.fromEntries(
        pages.map(({ name, script }) => [
          name,
          {
            import: forUse ? script : ["./scripts/server/reloadClient.js", script],
            ...(name === "taskpane" ? { dependOn: "functions" } : {}),
          },
        ]),
      ),
    },
    output: {
      path: folder ?? resolve(root, "dist"),
      // manifest.xml names the functions' script, which therefore keeps its name.
      filename: ({ chunk }) => (forUse && chunk.name !== "functions" ? "[name].[contenthash:8].js" : "[name].js"),
      // Written so, each module stands in brackets, by which browsers know to compile it while its file still comes.
      environment: { methodShorthand: false },
      chunkFilename: forUse ? "[name].[contenthash:8].js" : "[name].js",
      // The command line's bundle lives in dist/ too.
      clean: { keep: (file) => /^cli|^\.(cli|pages)$/.test(file) },
    },
    // Nothing is evaluated from text, in pages under work neither: the server forbids it.
    devtool: forUse ? false : "cheap-module-source-map",
    // The writer of PDF can take HTML apart when these are there; its own shapes need none of them.
    resolve: {
      extensions: [".ts", ".tsx", ".js"],
      alias: {
        canvg: false,
        dompurify: false,
        html2canvas: false,
        debug$: resolve(root, "scripts/noDebug.cjs"),
        numfmt$: resolve(root, "scripts/rememberedNumfmt.mjs"),
        "@stdlib/assert-has-generator-support$": resolve(root, "scripts/knownGenerators.cjs"),
        "@stdlib/string-format$": resolve(root, "scripts/plainFormat.cjs"),
      },
    },
    module: {
      rules: [
        // Types are checked by tsc on its own: checking them here as well would double the build.
        {
          test: /\.tsx?$/,
          exclude: /node_modules/,
          use: { loader: "ts-loader", options: { transpileOnly: true, compilerOptions: { noEmit: false } } },
        },
        { test: /\.css$/, use: [MiniCssExtractPlugin.loader, "css-loader"] },
        { test: /@univerjs[\\/]core[\\/].*\.m?js$/, use: resolve(root, "scripts/noLocalAddress.cjs") },
        // Libraries written for bundlers leave out file extensions in their imports.
        { test: /\.m?js$/, resolve: { fullySpecified: false } },
      ],
    },
    plugins: [
      new Notices(),
      new FunctionsHelp(),
      new MiniCssExtractPlugin({ filename: forUse ? "[name].[contenthash:8].css" : "[name].css" }),
      new CopyPlugin({
        patterns: [
          "src/assets/*.png",
          "src/functions/functions.json",
          "sample-workbooks/{demonstration,trial-log}.xlsx",
        ].map((from) => ({ from, to: "[name][ext]" })),
      }),
      ...pages.map(
        ({ name, shell }) => new HtmlWebpackPlugin({ template: shell, filename: `${name}.html`, chunks: [name] }),
      ),
    ],
    optimization: {
      minimizer: [
        // Excel waits for these: the slower way makes them a sixteenth smaller.
        new TerserPlugin({
          include: WAITED_FOR,
          minify: TerserPlugin.terserMinify,
          terserOptions: { compress: { passes: 2 }, format: { comments: false } },
          extractComments: false,
        }),
        new TerserPlugin({
          exclude: WAITED_FOR,
          minify: TerserPlugin.esbuildMinify,
          terserOptions: { legalComments: "none" },
          extractComments: false,
        }),
      ],
    },
    performance: { hints: false },
    cache: { type: "filesystem", buildDependencies: { config: [fileURLToPath(import.meta.url)] } },
    stats: "errors-warnings",
  };
};
