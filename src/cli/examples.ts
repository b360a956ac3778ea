/** Command lines that show what the commands are for; docs/commands.md prints them. */
export const EXAMPLES: readonly string[] = [
  `evaluate 'BANK.BEND(1/8)' --json`,
  `regress log.xlsx --response "Bend (in)" --category Cloth --driver "Humidity (%)" --curve "Humidity (%)" 2`,
  `regress log.xlsx --response "Bend (in)" --driver "Humidity (%)" --random Date --random Session`,
  `regress log.xlsx --response "Bend (in)" --driver "Speed (mph)" --weight Shots --bootstrap 10000 --seed 7`,
  `regress log.xlsx --made Outcome --driver "Speed (mph)" --cluster Session --at "Speed (mph)=8"`,
  `compare log.xlsx --response "Bend (in)" --among Table --driver "Speed (mph)" --margin 0.0625`,
  `compare log.xlsx --response "Bend (in)" --among Cloth --reference new --slope "Humidity (%)"`,
  `repeat log.xlsx --reading "Gap (in)" --reading "Gap 2 (in)"`,
  `reach log.xlsx --gap "Gap (in)" --outcome Outcome --driver "Humidity (%)" --random Session --probability 0.9`,
  `power --difference 0.05 --spread 0.08 --power 0.8 --looks 5`,
  `power --difference 0.1 --spread 0.08 --session-spread 0.05 --sessions 6 --shots 10`,
  `track film.csv --frames-per-second 240 --corners "120,640 1180,600 980,180 300,200" --table 100x50`,
  `gather halls --out trials.parquet --units us`,
  `regress --from-sums sums.csv --response "Bend (in)" --driver "Humidity (%)" --driver "Cloth: new"`,
  `recalculate log.xlsx --out copy.xlsx`,
];
