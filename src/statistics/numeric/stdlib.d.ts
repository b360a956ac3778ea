/** Types of the @stdlib functions that Bendbook calls, as plain default exports. */
declare module "@stdlib/math-base-special-betainc" {
  export default function betainc(x: number, a: number, b: number, regularized?: boolean, upper?: boolean): number;
}
declare module "@stdlib/math-base-special-betaincinv" {
  export default function betaincinv(p: number, a: number, b: number, upper?: boolean): number;
}
declare module "@stdlib/math-base-special-erfc" {
  export default function erfc(x: number): number;
}
declare module "@stdlib/math-base-special-gammaln" {
  export default function gammaln(x: number): number;
}
declare module "@stdlib/math-base-special-gammainc" {
  export default function gammainc(x: number, s: number, regularized?: boolean, upper?: boolean): number;
}
