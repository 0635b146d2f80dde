// SPDX-License-Identifier: MIT
// How the report looks on a screen, narrow or wide, and on paper.
#include "cli/report/sections/report_parts.hpp"

namespace hollowtop::cli {

const char* const style_sheet = R"css(
:root{color-scheme:light dark;--ink:#26231f;--soft:#5f584e;--line:#d9d2c5;--ground:#fffdf8;--paper:#fff;--good:#2d5b45;--bad:#8c2f1b;--steel:#3c5566;--chosen:#f1ead9}
@media screen and (prefers-color-scheme:dark){
 :root{--ink:#ece5d8;--soft:#b9b0a2;--line:#4a443b;--ground:#1d1a16;--paper:#26221d;--good:#8fc3a8;--bad:#f0a08c;--steel:#a9c4d6;--chosen:#3a3325}
 figure svg{background:#fffdf8;border-radius:4px}
}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:52rem;padding:1.5rem 1.25rem 4rem;background:var(--ground);color:var(--ink);
 font:1.0625rem/1.55 Charter,"Bitstream Charter",Georgia,"Times New Roman",serif;overflow-wrap:break-word}
h1{font-size:2rem;line-height:1.2;font-weight:600;margin:.1rem 0 1rem}
h2{font-size:1.35rem;line-height:1.3;font-weight:600;margin:3rem 0 .8rem;padding-top:.6rem;border-top:1.5px solid var(--ink)}
h3{font-size:1.08rem;font-weight:600;margin:2rem 0 .5rem}
p,ul{margin:.7rem 0}
ul{padding-left:1.2rem}
li{margin:.25rem 0}
a{color:var(--steel)}
header nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1.4rem;padding:0;margin:.8rem 0 0;font:.95rem/1.6 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif}
header dl{display:flex;flex-wrap:wrap;gap:.1rem 1.6rem;margin:.4rem 0}
header dl div{display:flex;gap:.5rem;border:0;padding:0}
.part{border-top:3px solid var(--ink);margin-top:3.5rem}
.part>h2{font-size:1.6rem;border:0;margin:.6rem 0 1rem}
.part>section>h3{font-size:1.28rem;line-height:1.3;margin:2.6rem 0 .7rem;padding-top:.5rem;border-top:1px solid var(--ink)}
.two{display:grid;grid-template-columns:1fr 1fr;gap:0 2rem}
.two h3{margin-top:1rem}
.box{display:inline-block;width:.85em;height:.85em;border:1.5px solid var(--ink);margin-right:.6em;vertical-align:-.08em}
ol.work{padding-left:1.7rem}
ol.works{list-style:none;counter-reset:work;padding:0}
ol.works li{counter-increment:work;padding-left:2.6rem;text-indent:-2.6rem}
ol.works li::before{content:"[" counter(work) "]";display:inline-block;width:2.6rem;text-indent:0}
ul.gauges{list-style:none;padding:0;columns:3 13rem;font:.9rem/1.6 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif}
ul.gauges li{display:flex;gap:.3em;white-space:nowrap;break-inside:avoid}
ul.gauges .write{flex:1;border-bottom:1px solid var(--soft)}
h1,bdi,code{overflow-wrap:anywhere}
.kind{font:600 .8rem/1.4 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;letter-spacing:.08em;text-transform:uppercase;color:var(--soft);margin:0}
.stamp{float:right;font:700 .95rem/1.4 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;letter-spacing:.12em;border:2px solid var(--ink);padding:.1rem .6rem;margin:0 0 .5rem 1rem}
.lead{font-weight:600}
dl{margin:.8rem 0}
dl div{display:grid;grid-template-columns:14rem minmax(0,1fr);gap:.2rem 1rem;padding:.28rem 0;border-bottom:1px solid var(--line)}
dt{color:var(--soft)}
dd{margin:0}
.soft{color:var(--soft)}
.sentence{font-size:1.3rem;line-height:1.35;font-weight:600}
.verdict .sentence{padding-left:.9rem;border-left:6px solid var(--good)}
.verdict.fails .sentence{border-left-color:var(--bad);color:var(--bad)}
nav ol{list-style:none;margin:1.5rem 0;padding:0;columns:3 13rem;font:.92rem/1.7 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif}
nav li{margin:0;break-inside:avoid}
table{width:100%;border-collapse:collapse;margin:1rem 0 1.4rem;font:.88rem/1.4 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;font-variant-numeric:tabular-nums}
table.short{width:auto;min-width:min(24rem,100%)}
caption{text-align:left;font-weight:600;padding:.3rem 0}
th,td{padding:.32rem 1.15rem .32rem 0;text-align:left;vertical-align:top;border-bottom:1px solid var(--line)}
thead th{border-bottom:1.5px solid var(--ink);font-weight:600;vertical-align:bottom}
tbody th{font-weight:400}
th.right,td.right{text-align:right}
td.right{white-space:nowrap}
td.right .long{white-space:normal}
.keep{white-space:nowrap}
tbody th{min-width:5.5rem}
th:last-child,td:last-child{padding-right:0}
tr.total th,tr.total td{font-weight:600}
tr.over th,tr.over td,.over,.warn{color:var(--bad)}
tr.over th:first-child::before{content:"\25b6\00a0";font-size:.8em}
data{white-space:nowrap}
.bar{display:block;height:4px;margin-top:3px;background:linear-gradient(to right,var(--steel) var(--share),var(--line) 0)}
.bar.full{background:var(--bad)}
.write{display:inline-block;min-width:3.5rem}
figure{margin:1.4rem 0 1.8rem}
figure img{display:block;max-width:100%;max-height:16cm}
figure svg{display:block;max-width:100%;height:auto}
.narrow{display:none}
figcaption b{font-weight:600;color:var(--ink)}
figcaption{font:.88rem/1.45 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;color:var(--soft);margin-top:.4rem}
#explorer{border:1.5px solid var(--ink);padding:.8rem 1rem;margin:1rem 0}
#explorer label{display:inline-block;margin:.2rem 1.2rem .4rem 0}
#explorer select{font:inherit;padding:.2rem .4rem;max-width:100%}
#explorer .bar{max-width:16rem}
tr.chosen th,tr.chosen td{background:var(--chosen)}
tr.fit th,tr.fit td{font-weight:600}
details{margin:1rem 0}
summary{cursor:pointer;color:var(--steel)}
pre{font-size:.8rem;line-height:1.45;padding:.8rem;border:1px solid var(--line);overflow-x:auto;background:var(--paper)}
code{font-family:ui-monospace,"SF Mono",Menlo,Consolas,"DejaVu Sans Mono",monospace;font-size:.9em}
pre code{font-size:inherit}
.hash{overflow-wrap:anywhere}
footer{margin-top:3rem;border-top:1.5px solid var(--ink);color:var(--soft);font-size:.9rem}
h1.long{font-size:1.35rem}
@media (max-width:46rem){
 body{font-size:1rem;padding:1rem 1rem 3rem}
 h1{font-size:1.55rem}
 .wide{display:none}.narrow{display:block}
 dl div{grid-template-columns:minmax(0,1fr)}
 .two{display:block}
 table.short{min-width:100%}
 table.short:not(.folds) :is(th,td){padding-right:.7rem;white-space:normal}
 table.short:not(.folds) :is(th,td):last-child{padding-right:0}
 table:is(:not(.short),.folds) thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
 table:is(:not(.short),.folds),table:is(:not(.short),.folds) :is(caption,tbody,tr,th,td){display:block}
 table:is(:not(.short),.folds) tbody tr{padding:.5rem 0;border-bottom:1px solid var(--line)}
 table:is(:not(.short),.folds) :is(th,td){border:0;padding:.1rem 0;text-align:left;white-space:normal}
 table:is(:not(.short),.folds) tbody th{font-weight:600}
 table:is(:not(.short),.folds) td{display:flow-root;padding-left:9.2rem}
 table:is(:not(.short),.folds) td::before{content:attr(data-label);color:var(--soft);float:left;width:8.7rem;margin-left:-9.2rem}
 table:is(:not(.short),.folds) td.void,td.void::before{display:none}
 .bar{max-width:8rem}
 tr.over{border-left:3px solid var(--bad);padding-left:.6rem}
}
@media print{
 html{font-size:10pt}
 body{max-width:none;padding:0;background:#fff;font-size:1rem;line-height:1.38}
 nav,#explorer{display:none}
 h1{font-size:1.5rem;margin:0 0 .3rem}
 h1.long{font-size:1rem}
 .part{break-before:page;border:0;margin:0}
 .part:first-child{break-before:auto}
 .part>h2{font-size:1.25rem;margin:.1rem 0 .4rem}
 .part>section>h3{font-size:1.12rem;margin:1rem 0 .35rem;padding-top:.25rem}
 h3,h4{margin:.75rem 0 .25rem}
 p,ul,ol{margin:.35rem 0}
 li{margin:.1rem 0}
 table{font-size:.9rem;line-height:1.3;margin:.4rem 0 .6rem}
 th,td{padding-top:.14rem;padding-bottom:.14rem}
 figure{margin:.4rem 0 .6rem}
 figcaption,ul.gauges{font-size:.9rem;line-height:1.3;margin-top:.15rem}
 ul.gauges{columns:3}
 ul.gauges.inches{columns:2}
 #client figure svg{max-height:5.4cm;margin:auto}
 :is(#client figure,#engineer #drawn~figure,#maker figure:last-of-type) .narrow{display:block!important}
 :is(#client figure,#engineer #drawn~figure,#maker figure:last-of-type) .wide{display:none!important}
 #client tbody :is(th,td){height:1.9rem;vertical-align:bottom}
 footer{display:none}
 #maker figure svg{max-height:9cm;margin:auto}
 #maker figure:last-of-type svg{max-height:7.6cm}
 #maker table.short{width:100%}
 #maker{line-height:1.28}
 #maker table{line-height:1.2;margin:.25rem 0 .4rem}
 #maker :is(th,td){padding-top:.03rem;padding-bottom:.03rem}
 #maker li{margin:0}
 #maker h3{margin:.4rem 0 .15rem}
 #maker figure{margin:.3rem 0 .35rem}
 #maker ul.gauges{line-height:1.2;margin:.1rem 0}
 .pair{display:grid;grid-template-columns:1fr 1fr;gap:0 .8cm;align-items:start}
 .pair .narrow{display:block!important}.pair .wide{display:none!important}
 .pair>*{break-inside:avoid}
 .pair table{width:100%;min-width:0}
 #engineer figure svg{max-height:8.4cm;margin:auto}
 #engineer #assumed~ul,#engineer #assumed~p,ol.works{font-size:.9rem;line-height:1.2}
 #engineer{line-height:1.22}
 #engineer li{margin:0}
 #engineer ol.works{line-height:1.15}
 #engineer p{margin:.2rem 0}
 #engineer figure{margin:.2rem 0 .3rem}
 #engineer dl div{padding:.05rem 0}
 section:has(>#references){break-inside:avoid}
 #engineer>section>h3{margin:.5rem 0 .2rem}
 #engineer table{line-height:1.16;width:100%;margin:.15rem 0 .3rem}
 #engineer :is(th,td){padding-top:.08rem;padding-bottom:.08rem;padding-right:.7rem}
 #engineer :is(th,td):last-child{padding-right:0}
 #engineer tbody th{min-width:4.6rem}
 .bar{height:2px;margin-top:1px}
 #client .sentence{font-size:1.2rem}
 #client .write{min-width:3.2cm}
 #maker ul.gauges .write{min-width:.7cm}
 h2,h3,h4,caption,summary,thead,thead tr{break-after:avoid}
 table+.soft,tbody tr:nth-child(-n+3),tbody tr:nth-last-child(-n+2){break-before:avoid}
 summary{list-style:none;color:var(--ink);font-weight:600}
 figure,tr,dl div,li,table:not(:has(tbody tr:nth-child(9))){break-inside:avoid}
 .wide{display:block}.narrow{display:none}
 .two{display:grid}
 figure svg{max-height:16cm}
 pre{white-space:pre-wrap;overflow:visible;border:0;padding:0}
 a{color:inherit;text-decoration:none}
 .write{min-width:2.2cm}
}
)css";

} // namespace hollowtop::cli
