# Error rates of the comparison over a temper ladder, quoted in docs/methods/Verdict.md: 20,000 cases a line (Monte-Carlo error 0.15 points), three levels, slope -0.09 per HRC, margin 0.80-1.25.
# A line: coupons a level, scatter, hardness reading error, difference in hardness; coverage of the 95 % interval, "equivalent" and refused at ratio 1; false "equivalent" at 1.25; coverage with twice the scatter in one lot.
set.seed(1)
sim<-function(n,sig,serr,dH,truth,R=20000,b=-.09,L=3,ratio=1){
 base<-c(62.3,61.0,59.6)[1:L]; tr<-rep(c(base,base+dH),each=n); N<-2*L*n; g<-rep(1:2,each=L*n)
 z<-matrix(rnorm(R*N),R)*rep(ifelse(g==2,sig*ratio,sig),each=R)+rep(ifelse(g==2,truth,0)+b*(tr-61),each=R)
 h<-matrix(rnorm(R*N)*serr,R)+rep(tr,each=R); x<-h
 for(k in 1:(2*L)){j<-((k-1)*n+1):(k*n); x[,j]<-rowMeans(h[,j,drop=FALSE])}
 A<-1:(L*n);B<-(L*n+1):N; mz<-cbind(rowMeans(z[,A]),rowMeans(z[,B]));mx<-cbind(rowMeans(x[,A]),rowMeans(x[,B]))
 dz<-z-mz[,g];dx<-x-mx[,g]; sxx<-rowSums(dx^2);bb<-rowSums(dx*dz)/sxx;rss<-rowSums(dz^2)-bb^2*sxx;nu<-N-3;s2<-rss/nu
 D<-mx[,2]-mx[,1];th<-mz[,2]-mz[,1]-bb*D;se<-sqrt(s2*(2/(L*n)+D^2/sxx))
 q<-function(j){sx<-rowSums(dx[,j]^2);sxy<-rowSums(dx[,j]*dz[,j]);rowSums(dz[,j]^2)-sxy^2/sx}; rs<-q(A)+q(B)
 p<-pf((rss-rs)/(rs/(N-4)),1,N-4,lower=FALSE);ok<-p>=.05
 c(cover=100*mean(abs(th-truth)<qt(.975,nu)*se),eq=100*mean(th-qt(.95,nu)*se>log(.8)&th+qt(.95,nu)*se<log(1.25)&ok),ref=100*mean(!ok))}
for(n in c(2,3,4,6))for(sig in c(.1,.2))for(serr in c(.1,.3))for(dH in c(0,.8))cat(n,sig,serr,dH,round(sim(n,sig,serr,dH,0),1),"| false eq",round(sim(n,sig,serr,dH,log(1.25))["eq"],1),"| sd ratio 2 cover",round(sim(n,sig,serr,dH,0,ratio=2)["cover"],1),"\n")
