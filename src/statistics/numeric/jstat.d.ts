/** The parts of jstat that Bendbook calls; the package ships no types. */
declare module "jstat" {
  const jStat: {
    chisquare: { inv(probability: number, degreesOfFreedom: number): number };
    normal: { inv(probability: number, mean: number, standardDeviation: number): number };
  };
  export default jStat;
}
