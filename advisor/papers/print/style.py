"""The style sheet of the printed page: black on white, so that any printer and any copier can do it."""

from __future__ import annotations

from typing import Final

STYLE: Final = """
@page { margin: 16mm 15mm 18mm 15mm; }
@page { @bottom-right { content: counter(page); font: 9pt serif; } }
* { box-sizing: border-box; }
html { color: #000; background: #fff; font: 10.5pt/1.38 "Liberation Serif", "Times New Roman", Times, serif; }
body { margin: 0 auto; padding: 6mm; max-width: 186mm; }
h1, h2, figcaption, th, text, .box { font-family: "Liberation Sans", Arial, Helvetica, sans-serif; }
header { border-bottom: 2pt solid #000; margin-bottom: 4mm; }
h1 { font-size: 19pt; line-height: 1.15; margin: 0 0 2mm; }
.whose { margin: 0 0 2mm; }
h2 { font-size: 12pt; margin: 0 0 1.2mm; break-after: avoid; }
section { margin: 0 0 4.5mm; }
ul { list-style: none; margin: 0; padding: 0; }
li { break-inside: avoid; margin: 0 0 1.1mm; overflow-wrap: anywhere; }
.to-do { display: flex; gap: 2.4mm; }
.to-do .box { flex: none; width: 3.4mm; height: 3.4mm; border: 0.9pt solid #000; margin-top: 0.75mm; }
.below { padding-left: 5.8mm; }
.grave { border: 1.6pt solid #000; padding: 2.6mm 3.4mm 1.6mm; break-inside: avoid; }
.grave li { font-weight: bold; }
.care { border-left: 3pt solid #000; padding-left: 3.2mm; }
figure { margin: 0 0 4.5mm; break-inside: avoid; }
figcaption { font-weight: bold; font-size: 10pt; margin-bottom: 1mm; }
figure svg { display: block; width: 100%; height: auto; }
figure .words { font-size: 9pt; margin: 1mm 0 0; }
pre { font: 7.6pt/1.15 "DejaVu Sans Mono", "Liberation Mono", Menlo, Consolas, monospace; margin: 0; overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: 9pt; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { border-bottom: 0.4pt solid #000; padding: 0.7mm 1.2mm; text-align: right; vertical-align: bottom; }
thead th { font-size: 8pt; border-bottom: 1pt solid #000; font-weight: bold; }
td { white-space: nowrap; }
th:first-child { text-align: left; font-weight: normal; white-space: nowrap; }
.sources { font-size: 8pt; line-height: 1.25; border-top: 0.6pt solid #000; padding-top: 2.4mm; }
.sources h2 { font-size: 9.5pt; }
.sources ol { columns: 2; column-gap: 7mm; margin: 0; padding-left: 5mm; }
.sources li { margin-bottom: 0.5mm; }
footer { font-size: 8pt; font-style: italic; }
@media print { body { padding: 0; max-width: none; } }
"""
