# Makes tests/outside/reference/sessionErrors.json from sessions.csv (invented shots): intervals for few sessions.
# Run by: npm run reference. Needs R with lme4, pbkrtest and jsonlite.
suppressMessages({
  library(lme4)
  library(pbkrtest)
  library(jsonlite)
})
folder <- commandArgs(trailingOnly = TRUE)[1]
shots <- read.csv(file.path(folder, "sessions.csv"))
names(shots) <- c("session", "humidity", "speed", "cloth", "bend", "made")
shots$cloth <- factor(shots$cloth, levels = unique(shots$cloth))
shots$session <- factor(shots$session, levels = unique(shots$session))
# The order within a session, from 1 for its first shot.
shots$order <- ave(seq_along(shots$bend), shots$session, FUN = seq_along)
control <- lmerControl(optCtrl = list(xtol_abs = 1e-12, ftol_abs = 1e-14))

# Kenward and Roger by pbkrtest for each coefficient; that of what only changes from session to session by whole matrices
# of rows: the sessions' means scatter by the mean square that they leave about those drivers, each session once.
judged <- function(fit, combinations = diag(length(fixef(fit)))) {
  X <- getME(fit, "X"); y <- getME(fit, "y"); Z <- model.matrix(~ 0 + shots$session)
  sigma2 <- sigma(fit)^2; tau2 <- as.data.frame(VarCorr(fit))$vcov[1]
  V <- sigma2 * diag(nrow(X)) + tau2 * Z %*% t(Z)
  Phi <- solve(t(X) %*% solve(V) %*% X)
  C <- Phi %*% t(X) %*% solve(V)
  P <- Z %*% solve(t(Z) %*% Z) %*% t(Z)
  within <- X - P %*% X
  parts <- svd(within)
  rank <- sum(parts$d > 1e-8)
  still <- parts$v[, -seq_len(rank), drop = FALSE]
  b <- parts$v[, seq_len(rank), drop = FALSE] %*% ((t(parts$u[, seq_len(rank), drop = FALSE]) %*% (y - P %*% y)) / parts$d[seq_len(rank)])
  dfWithin <- nrow(X) - ncol(Z) - rank
  sigmaWithin <- sum((y - P %*% y - within %*% b)^2) / dfWithin
  means <- solve(t(Z) %*% Z) %*% t(Z) %*% (y - X %*% b)
  at <- solve(t(Z) %*% Z) %*% t(Z) %*% X %*% still
  dfBetween <- ncol(Z) - ncol(still)
  left <- sum(lm.fit(at, means)$residuals^2) / dfBetween
  floor <- sigmaWithin * mean(1 / colSums(Z)) * (qt(0.975, dfWithin) / qt(0.975, dfBetween))^2
  Omega <- sigmaWithin * (diag(nrow(X)) - P) + max(left, floor) * Z %*% t(Z)
  adjusted <- as.matrix(vcovAdj(fit))
  one <- function(l) {
    estimate <- sum(l * fixef(fit))
    if (sqrt(sum((t(still) %*% l)^2)) > 1e-8) return(c(estimate, sqrt(t(l) %*% C %*% Omega %*% t(C) %*% l), dfBetween))
    share <- t(Phi %*% l) %*% (t(within) %*% within / sigma2) %*% (Phi %*% l) / (t(l) %*% Phi %*% l)
    shared <- 1 / ((1 - share) / dfBetween + share / dfWithin)
    c(estimate, sqrt(t(l) %*% adjusted %*% l), min(shared, max(1, Lb_ddf(l, vcov(fit), vcovAdj(fit)))))
  }
  found <- t(apply(combinations, 1, one))
  list(estimate = found[, 1], standardError = found[, 2], df = found[, 3])
}
full <- lmer(bend ~ humidity + speed + cloth + (1 | session), shots, control = control)
cloths <- lmer(bend ~ cloth + speed + (1 | session), shots, control = control)
ordered <- lmer(bend ~ speed + cloth + order + (1 | session), shots, control = control)
levels <- length(levels(shots$cloth))
pairs <- t(combn(levels, 2, function(pair) {
  l <- rep(0, levels + 1); for (k in 1:2) if (pair[k] > 1) l[pair[k]] <- l[pair[k]] + c(1, -1)[k]; l
}))
paired <- judged(cloths, pairs)
half <- qtukey(0.95, levels, paired$df) / sqrt(2) * paired$standardError
paired$low <- paired$estimate - half
paired$p <- ptukey(sqrt(2) * abs(paired$estimate) / paired$standardError, levels, paired$df, lower.tail = FALSE)
means <- judged(cloths, t(sapply(seq_len(levels), function(k) { l <- c(1, rep(0, levels - 1), mean(shots$speed)); if (k > 1) l[k] <- 1; l })))

# Neighbouring shots: what is left about the drivers, the order and each session's own mean, by whole matrices.
X <- model.matrix(~ 0 + session + speed + cloth + order, shots)
M <- diag(nrow(X)) - X %*% solve(t(X) %*% X) %*% t(X)
A <- outer(seq_len(nrow(X)), seq_len(nrow(X)), function(i, j) ifelse(abs(i - j) == 1 & shots$session[i] == shots$session[j], 0.5, 0))
e <- M %*% shots$bend; nu <- nrow(X) - ncol(X); MA <- M %*% A
mean <- sum(diag(MA)) / nu
variance <- 2 * (sum(diag(MA %*% MA)) - sum(diag(MA))^2 / nu) / (nu * (nu + 2))
write_json(
  list(
    made = list(R = as.character(getRversion()), packages = sapply(c("lme4", "pbkrtest"), function(name) as.character(packageVersion(name)), simplify = FALSE)),
    full = judged(full), pairs = paired, means = means, ordered = judged(ordered),
    neighbours = list(share = sum(e * (A %*% e)) / sum(e^2), mean = mean, sd = sqrt(variance))
  ),
  file.path(folder, "sessionErrors.json"), digits = NA, auto_unbox = TRUE, pretty = TRUE
)
