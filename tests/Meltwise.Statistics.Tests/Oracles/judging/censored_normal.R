library(survival)
sets <- list(
 list(name="motorettes-like right", z=c(3.2,3.5,3.61,3.7,3.95,4.0,4.0), kind=c("value","value","value","value","value","above","above")),
 list(name="left detection", z=c(-1,-1,-0.4,0.1,0.3,0.9,1.4,1.6), kind=c("below","below","value","value","value","value","value","value")),
 list(name="both sides", z=c(0,0.2,0.5,0.9,1.1,1.5,1.8,2.0), kind=c("below","value","value","value","value","value","above","above")),
 list(name="none censored", z=c(1.2,1.5,1.9,2.1,2.4), kind=rep("value",5)))
out <- lapply(sets, function(s){ lo <- ifelse(s$kind=="below",-Inf,s$z); hi <- ifelse(s$kind=="above",Inf,s$z)
 f <- survreg(Surv(lo,hi,type="interval2")~1, dist="gaussian", control=list(rel.tolerance=1e-14,maxiter=100))
 list(name=s$name,z=s$z,kind=s$kind,mean=unname(coef(f)),sd=f$scale,varianceOfMean=f$var[1,1]) })
cat(jsonlite::toJSON(list(what="censored normal samples by maximum likelihood; readings made up", method=paste("R", getRversion(), "survival", packageVersion("survival"), "survreg, gaussian"), cases=out), auto_unbox=TRUE, digits=I(14), pretty=TRUE))
