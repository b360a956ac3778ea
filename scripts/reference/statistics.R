# Makes tests/outside/reference/statistics.json from sessions.csv (invented shots) with R packages made for each method.
# Run by: npm run reference. Needs R with lme4, lmerTest, pbkrtest, sandwich, clubSandwich, emmeans, car and jsonlite.
suppressMessages({
  library(lmerTest)
  library(sandwich)
  library(clubSandwich)
  library(emmeans)
  library(pbkrtest)
  library(car)
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

# Each cloth's own effect of speed, and two kinds of tests of the terms.
own <- lm(bend ~ cloth * speed + humidity, shots)
slopes <- emtrends(own, ~cloth, var = "speed")
slopePairs <- summary(pairs(slopes), infer = TRUE)
given <- Anova(plain, type = 2)
speedAtAll <- linearHypothesis(own, grep("speed", names(coef(own)), value = TRUE))
summed <- Anova(lm(bend ~ cloth * speed + humidity, shots, contrasts = list(cloth = contr.sum)), type = 3)
# Consistency by levels, and by thirds of the speed with equal speeds together.
speeds <- sort(shots$speed)
below <- which(diff(speeds) > 0)
cuts <- sapply(length(speeds) * 1:2 / 3, function(wanted) below[which.min(abs(below - wanted))])
third <- factor(findInterval(shots$speed, speeds[cuts + 1]))
byCloth <- leveneTest(resid(plain), shots$cloth, center = median)
bySpeed <- leveneTest(resid(plain), third, center = median)
# The same test of the cloths with Satterthwaite's degrees of freedom, by code of another hand.
satterthwaite <- SATmodcomp(random, update(random, . ~ . - cloth))

write_json(
  list(
    made = list(
      R = as.character(getRversion()),
      packages = sapply(c("lme4", "lmerTest", "pbkrtest", "sandwich", "clubSandwich", "emmeans", "car"), function(name) as.character(packageVersion(name)), simplify = FALSE)
    ),
    robust = list(standardError = unname(sqrt(diag(vcovHC(plain, "HC3"))))),
    cluster = list(standardError = cr2$SE, df = cr2$df_Satt, p = cr2$p_Satt,
      cloth = list(value = cloth$Fstat, df2 = cloth$df_denom), every = list(value = every$Fstat, df2 = every$df_denom)),
    random = list(estimate = unname(coef(summary(random))[, 1]), standardError = unname(coef(summary(random))[, 2]),
      df = unname(coef(summary(random))[, 3]), between = sd[1], within = sd[2],
      cloth = list(value = together["cloth", "F value"], df2 = together["cloth", "DenDF"])),
    compare = list(mean = summary(means)$emmean, meanError = summary(means)$SE, low = pairs$lower.CL, high = pairs$upper.CL, p = pairs$p.value),
    compareRandom = list(mean = summary(randomMeans)$emmean, df = summary(randomMeans)$df, difference = randomPairs$estimate,
      pairDf = randomPairs$df, low = randomPairs$lower.CL, high = randomPairs$upper.CL, p = randomPairs$p.value),
    slopes = list(slope = summary(slopes)$speed.trend, standardError = summary(slopes)$SE, difference = slopePairs$estimate,
      low = slopePairs$lower.CL, high = slopePairs$upper.CL, p = slopePairs$p.value),
    terms = list(given = given[c("humidity", "speed", "cloth"), "F value"], givenP = given[c("humidity", "speed", "cloth"), "Pr(>F)"],
      joint = summed[c("humidity", "cloth:speed"), "F value"], jointP = summed[c("humidity", "cloth:speed"), "Pr(>F)"],
      atAll = speedAtAll[2, "F"], atAllP = speedAtAll[2, "Pr(>F)"], atAllDf = speedAtAll[2, "Df"]),
    consistency = list(cloth = byCloth[1, "F value"], clothP = byCloth[1, "Pr(>F)"], speed = bySpeed[1, "F value"], speedP = bySpeed[1, "Pr(>F)"],
      rows = as.vector(table(third))),
    modcomp = list(value = satterthwaite$test$statistic, df2 = satterthwaite$test$ddf, p = satterthwaite$test$p.value)
  ),
  file.path(folder, "statistics.json"), digits = NA, auto_unbox = TRUE, pretty = TRUE
)
