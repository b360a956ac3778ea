import type { Configuration } from "webpack";

/** @param given.pages folder for the built pages; dist/ when missing */
export default function configure(given?: { readonly pages?: string }, how?: { readonly mode?: "production" | "development" }): Configuration;
