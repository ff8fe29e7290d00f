#pragma once
/// How the plan sheet looks: on a phone, on a wide screen and on A4. No font, picture or rule comes from elsewhere.

namespace leewheel {

inline constexpr const char* sheet_style = R"(
:root { --ink: #17282e; --soft: #46565c; --paper: #fcfbf7; --card: #ffffff; --rule: #c9cfcf; --accent: #0a4f63; --warn: #7a2a10; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 62rem; background: var(--paper); color: var(--ink);
  overflow-wrap: break-word; font: 1rem/1.45 "DejaVu Sans", Verdana, sans-serif; }
h1 { font-size: 1.5rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.2rem; margin: 1.8rem 0 .5rem; padding-top: .5rem; border-top: 3px solid var(--accent); }
h3 { font-size: 1.1rem; margin: 0 0 .2rem; }
p { margin: .4rem 0; }
a { color: var(--accent); }
.soft { color: var(--soft); font-size: .9rem; }
.facts, .key, .jump { list-style: none; padding: 0; margin: .5rem 0; display: flex; flex-wrap: wrap; gap: .3rem 1.2rem; }
.facts b { font-size: 1.1rem; }
.key { font-size: .85rem; }
.key svg { vertical-align: -2px; }
.jump li { padding: .35rem 0; }
figure { margin: .5rem 0; }
figure svg { max-width: 100%; height: auto; display: block; }
.narrow { display: none; }
table { border-collapse: collapse; width: 100%; font-size: .9rem; margin: .5rem 0; }
caption { text-align: left; color: var(--soft); font-size: .85rem; padding-bottom: .2rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .5rem .3rem 0; border-bottom: 1px solid var(--rule); }
thead th { color: var(--soft); font-size: .8rem; }
td.n, th.n { text-align: right; white-space: nowrap; }
.nw { white-space: nowrap; }
.all, tbody th, h3, .jump a { overflow-wrap: anywhere; }
.no { display: inline-block; min-width: 1.35em; padding: 0 .2em; border-radius: .7em; background: var(--ink); color: #fff;
  font-size: .75rem; text-align: center; font-weight: bold; }
.card { background: var(--card); border: 1px solid var(--rule); border-left: 5px solid var(--accent); border-radius: 4px;
  padding: .8rem .9rem; margin: 1rem 0; }
.card ul { padding-left: 1.1rem; margin: .4rem 0; }
.card li { margin: .25rem 0; }
.caution { border: 2px solid var(--warn); border-radius: 4px; padding: .3rem .9rem; background: var(--card); }
.caution h2 { border: 0; margin-top: .3rem; color: var(--warn); }
footer { margin-top: 2rem; }
.pocket { display: flex; flex-wrap: wrap; gap: 4mm; }
.pocket .card { width: 92mm; max-width: 100%; min-height: 132mm; margin: 0; border: 1px dashed var(--soft); font-size: .8rem; line-height: 1.3; }
.pocket table { font-size: .8rem; }
.pocket th, .pocket td { padding: .12rem .5rem .12rem 0; }
@media (max-width: 640px) {
  body { padding: .7rem; }
  .wide { display: none; }
  .narrow { display: block; }
  .stack thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .stack, .stack tbody { display: block; }
  .stack caption { display: block; }
  .stack tr { display: grid; grid-template-columns: 1fr 1fr; column-gap: .8rem; padding: .4rem 0; border-bottom: 1px solid var(--rule); }
  .tight tr { grid-template-columns: 1fr 1fr 1fr; }
  .stack th, .stack td { border: 0; padding: .1rem 0; text-align: left; white-space: normal; }
  .stack tbody th, .stack td.all { grid-column: 1 / -1; }
  .stack td::before { content: attr(data-label) " "; color: var(--soft); font-size: .8rem; display: block; }
  .stack td:empty { display: none; }
}
@page { size: A4; margin: 12mm; }
@media print {
  html { font-size: 9pt; }
  body { padding: 0; max-width: none; background: #fff; line-height: 1.35; }
  th, td { padding: .15rem .4rem .15rem 0; }
  .jump { display: none; }
  h2 { break-after: avoid; }
  .card, .caution, tr, figure { break-inside: avoid; }
  .card { margin: 3mm 0; padding: 2mm 3mm; }
  .pocket { gap: 3mm; align-items: stretch; }
  .pocket .card { width: 91mm; min-height: 127mm; margin: 0; font-size: 10pt; }
  .pocket table { font-size: 10pt; }
  .pocket .soft { font-size: 8.5pt; }
  .tight { break-inside: avoid; }
  .wide { display: block; }
  .narrow { display: none; }
}
)";

}  // namespace leewheel
