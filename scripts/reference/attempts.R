# Attempts at bends by censored fits of other hands: survival's survreg, and lme4's glmer with 25 quadrature nodes.
# The rows are invented: drawn here, by a stated model and seed, and stored beside the values.
suppressMessages({
  library(survival)
  library(lme4)
  library(jsonlite)
})

folder <- commandArgs(trailingOnly = TRUE)[1]

# bend = 0.9 + 0.006 (humidity − 45) − 0.1 worn + session (0.08) + scatter (0.15); the obstacle comes closer by attempts.
set.seed(20240611)
sessions <- 8
each <- 30
rows <- data.frame(
  session = rep(seq_len(sessions), each = each),
  humidity = rep(round(runif(sessions, 30, 65)), each = each),
  cloth = rep(ifelse(seq_len(sessions) %% 2 == 0, "worn", "new"), each = each),
  required = round(rep(0.5 + 0.025 * (seq_len(each) - 1), sessions) * 32) / 32
)
bend <- 0.9 + 0.006 * (rows$humidity - 45) - 0.1 * (rows$cloth == "worn") +
  rep(rnorm(sessions, 0, 0.08), each = each) + rnorm(nrow(rows), 0, 0.15)
rows$outcome <- ifelse(bend >= rows$required, "cleared", "hit obstacle")
# A camera saw every sixth attempt.
filmed <- seq_len(nrow(rows)) %% 6 == 0
rows$measured <- ifelse(filmed, round(bend, 3), NA)
write.csv(rows, file.path(folder, "attempts.csv"), row.names = FALSE, quote = FALSE, na = "")

low <- ifelse(filmed, rows$measured, ifelse(rows$outcome == "cleared", rows$required, NA))
high <- ifelse(filmed, rows$measured, ifelse(rows$outcome == "cleared", NA, rows$required))
mixed <- survreg(Surv(low, high, type = "interval2") ~ humidity + cloth, rows, dist = "gaussian",
  control = survreg.control(rel.tolerance = 1e-13, maxiter = 100))
only <- ifelse(rows$outcome == "cleared", rows$required, NA)
above <- ifelse(rows$outcome == "cleared", NA, rows$required)
told <- survreg(Surv(only, above, type = "interval2") ~ humidity + cloth, rows, dist = "gaussian",
  control = survreg.control(rel.tolerance = 1e-13, maxiter = 100))
# Got by or hit alone: a probit with the required bend as a driver, whose slope is −1/scatter.
probit <- glm(outcome == "cleared" ~ required + humidity + cloth, binomial("probit"), rows, control = glm.control(1e-14, 100))
random <- glmer(outcome == "cleared" ~ I(required - 0.86) + I((humidity - 47) / 10) + cloth + (1 | session), rows,
  binomial("probit"), nAGQ = 25, control = glmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e5)))
b <- unname(fixef(random))
scatter <- -1 / b[2]
slopes <- c(b[3] / 10, b[4]) * scatter

fit <- function(model) list(estimate = unname(coef(model)), standardError = unname(sqrt(diag(vcov(model)))[1:3]),
  scatter = model$scale, logLikelihood = model$loglik[2])
write_json(
  list(
    made = list(
      R = as.character(getRversion()),
      packages = sapply(c("survival", "lme4"), function(name) as.character(packageVersion(name)), simplify = FALSE)
    ),
    mixed = fit(mixed),
    told = fit(told),
    probit = list(estimate = unname(coef(probit)), logLikelihood = as.numeric(logLik(probit))),
    random = list(estimate = c(b[1] * scatter + 0.86 - 4.7 * 10 * slopes[1], slopes), scatter = scatter,
      between = unname(attr(VarCorr(random)$session, "stddev")) * scatter, logLikelihood = as.numeric(logLik(random)))
  ),
  file.path(folder, "attempts.json"), digits = NA, auto_unbox = TRUE, pretty = TRUE
)
