/** The worksheet functions with what is said of them and of their arguments. */
import { bankFunctions } from "./call";
import metadata from "./functions.json";

export const bankLibrary = bankFunctions(metadata);
