# Makes tests/outside/reference/statistics.json from sessions.csv (invented shots) with R packages made for each method.
# Run by: npm run reference. Needs R with lme4, lmerTest, sandwich, clubSandwich, emmeans and jsonlite.
suppressMessages({
  library(lmerTest)
  library(sandwich)
  library(clubSandwich)
  library(emmeans)
  library(jsonlite)
})
folder <- commandArgs(trailingOnly = TRUE)[1]
shots <- read.csv(file.path(folder, "sessions.csv"))
names(shots) <- c("session", "humidity", "speed", "cloth", "bend", "made")
shots$cloth <- factor(shots$cloth, levels = unique(shots$cloth))
shots$session <- factor(shots$session)

plain <- lm(bend ~ humidity + speed + cloth, shots)
cr2 <- coef_test(plain, "CR2", cluster = shots$session)
cloth <- Wald_test(plain, constrain_zero(4:5), vcov = "CR2", cluster = shots$session)
every <- Wald_test(plain, constrain_zero(2:5), vcov = "CR2", cluster = shots$session)
control <- lmerControl(optCtrl = list(xtol_abs = 1e-12, ftol_abs = 1e-14))
random <- lmer(bend ~ humidity + speed + cloth + (1 | session), shots, control = control)
sd <- as.data.frame(VarCorr(random))$sdcor
together <- anova(random)
apart <- lm(bend ~ cloth + speed + session, shots)
means <- emmeans(apart, ~cloth)
pairs <- summary(pairs(means), infer = TRUE)
randomMeans <- emmeans(lmer(bend ~ cloth + speed + (1 | session), shots, control = control), ~cloth, lmer.df = "satterthwaite")
randomPairs <- summary(pairs(randomMeans), infer = TRUE)

write_json(
  list(
    made = list(
      R = as.character(getRversion()),
      packages = sapply(c("lme4", "lmerTest", "sandwich", "clubSandwich", "emmeans"), function(name) as.character(packageVersion(name)), simplify = FALSE)
    ),
    robust = list(standardError = unname(sqrt(diag(vcovHC(plain, "HC3"))))),
    cluster = list(standardError = cr2$SE, df = cr2$df_Satt, p = cr2$p_Satt,
      cloth = list(value = cloth$Fstat, df2 = cloth$df_denom), every = list(value = every$Fstat, df2 = every$df_denom)),
    random = list(estimate = unname(coef(summary(random))[, 1]), standardError = unname(coef(summary(random))[, 2]),
      df = unname(coef(summary(random))[, 3]), between = sd[1], within = sd[2],
      cloth = list(value = together["cloth", "F value"], df2 = together["cloth", "DenDF"])),
    compare = list(mean = summary(means)$emmean, meanError = summary(means)$SE, low = pairs$lower.CL, high = pairs$upper.CL, p = pairs$p.value),
    compareRandom = list(mean = summary(randomMeans)$emmean, df = summary(randomMeans)$df, difference = randomPairs$estimate,
      pairDf = randomPairs$df, low = randomPairs$lower.CL, high = randomPairs$upper.CL, p = randomPairs$p.value)
  ),
  file.path(folder, "statistics.json"), digits = NA, auto_unbox = TRUE, pretty = TRUE
)
