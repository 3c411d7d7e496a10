"""What goes on paper as a document of its own, with its style; black on white, A4 or Letter."""

from __future__ import annotations

from thickset.faces.words.markup import Markup, el, join

STYLE = """
@page { margin: 9mm; }
body { margin: 0; }
.sheet, .tags-sheet { color: #000; background: #fff; font: 8.5pt/1.25 Thickset, system-ui, "Segoe UI", Roboto, "Noto Sans", Arial, sans-serif; font-variant-numeric: tabular-nums; }
.sheet h1 { margin: 0; font-size: 15pt; line-height: 1.15; overflow-wrap: anywhere; }
.sheet *, .tags-sheet * { box-sizing: border-box; }
.sheet p, .tags-sheet p { margin: 0; }
.sheet header { display: flex; gap: 6mm; align-items: start; }
.sheet header > div:first-child { flex: 1; }
.sheet .when { white-space: nowrap; }
.sheet figure { margin: 0; }
.sheet .code { width: 30mm; }
.sheet .code svg { display: block; width: 100%; }
.sheet .care { margin: 1.5mm 0; padding: 1mm 2mm; border: 0.5mm solid #000; font-size: 8pt; }
.sheet table { width: 100%; border-collapse: collapse; }
.sheet th, .sheet td { padding: 0.5mm 0.8mm; border: 0.2mm solid #000; text-align: left; vertical-align: middle; font-weight: 400; }
.sheet thead { display: table-header-group; }
.sheet thead th { font-size: 7.5pt; font-weight: 600; vertical-align: bottom; background: none; }
.sheet tr { break-inside: avoid; }
.sheet .rota { margin-bottom: 0.5mm; }
.sheet .rota tbody th { font-size: 13pt; font-weight: 700; text-align: center; line-height: 1; }
.sheet .rota tbody th small { display: block; font-size: 6.5pt; font-weight: 400; }
.sheet .rota .to { font-size: 14pt; font-weight: 700; white-space: nowrap; line-height: 1; }
.sheet .rota .to small { display: block; font-size: 7pt; line-height: 1.1; font-weight: 400; white-space: normal; }
.sheet .rota td { height: 9.2mm; line-height: 1.1; }
.sheet .rota .in, .sheet .rota thead th:nth-child(n+6) { text-align: center; padding: 0.3mm 0; min-width: 5mm; }
.sheet .outcomes td:nth-child(n+2) { white-space: nowrap; }
.sheet .rota.listed thead th:nth-child(n+6) { text-align: left; padding: 0.5mm 0.8mm; }
.sheet .in span { display: block; margin: 0 auto; }
.sheet .in span:first-child { width: 4.8mm; max-width: calc(100% - 0.8mm); border: 0.3mm solid transparent; border-radius: 1.5mm; font-size: 7.5pt; line-height: 1.15; }
.sheet .in .turned { border-color: #000 !important; font-weight: 700; }
.sheet .box { display: inline-block; width: 3.4mm; height: 3.4mm; border: 0.25mm solid #000; vertical-align: -0.4mm; }
.sheet .in .box { margin-top: 0.5mm; }
.sheet .rest .box { margin-left: 2mm; }
.sheet .blank { display: inline-block; min-width: 12mm; height: 3.4mm; margin-left: 1mm; border-bottom: 0.2mm solid #000; }
.sheet .upright span { writing-mode: vertical-rl; transform: rotate(180deg); max-height: 24mm; white-space: nowrap; }
.sheet thead small { font-weight: 400; }
.sheet .reads { font-size: 7.5pt; }
.sheet .below { display: grid; grid-template-columns: 1fr 1fr; gap: 5mm; margin-top: 2mm; align-items: start; }
.sheet .below.wide { grid-template-columns: 2fr 3fr; }
.sheet .lot { display: block; width: 100%; max-height: 105mm; color: #000; }
.sheet .lot .rule, .sheet .lot .idle, .sheet .lot .lead { stroke-width: 0.7; }
.sheet .wood { fill: #f3e7cf; stroke: #4a3413; stroke-width: 0.8; }
.sheet .extent, .sheet .spread { fill: #cfae80; stroke: #4a3413; stroke-width: 0.8; }
.sheet .spread { stroke: none; }
.sheet [data-shared] .extent { fill: none; stroke-dasharray: 2 2; }
.sheet .halo { stroke: #fff; stroke-width: 5; }
.sheet .step, .sheet .target { stroke: #b3261e; stroke-width: 2; }
.sheet .lot .target { stroke-width: 3; }
.sheet .lot .reading { paint-order: stroke; stroke: #fff; stroke-width: 3; }
.sheet .lot .label { font-weight: 600; }
.sheet .legend { margin: 1mm 0 0; padding: 0; list-style: none; font-size: 7.5pt; }
.sheet .legend li { display: flex; gap: 1.5mm; align-items: center; }
.sheet .legend svg { flex: none; width: 3.6mm; height: 3.6mm; }
.sheet .scrap { margin-bottom: 1.5mm; }
.sheet .outcomes { font-size: 8pt; line-height: 1.15; }
.sheet .outcomes th[scope="row"] { font-weight: 700; overflow-wrap: anywhere; }
.sheet .outcomes td:last-child { width: 17mm; }
.sheet .outcomes tbody tr { height: 4.3mm; }
.sheet .halves { display: grid; grid-template-columns: 1fr 1fr; gap: 3mm; align-items: start; }
.sheet.tight header { gap: 3mm; }
.sheet.tight .code { width: 25mm; }
.sheet.tight .care { margin: 1mm 0; padding: 0.5mm 1.5mm; font-size: 7.5pt; line-height: 1.15; }
.sheet.tight .rota td { height: 5.5mm; padding-top: 0.2mm; padding-bottom: 0.2mm; font-size: 7.5pt; }
.sheet.tight .rota td br { display: none; }
.sheet.tight .rota tbody th { padding: 0 0.6mm; font-size: 10.5pt; white-space: nowrap; }
.sheet.tight .rota tbody th small { display: inline; margin-left: 0.8mm; font-size: 7pt; }
.sheet.tight .rota .to { font-size: 11pt; }
.sheet.tight .rota .to small { display: inline; white-space: nowrap; }
.sheet.tight .rota .in { padding: 0.2mm 0; line-height: 0; }
.sheet.tight .in span { display: inline-block; margin: 0; vertical-align: middle; }
.sheet.tight .in span:first-child { width: 4.4mm; font-size: 7pt; line-height: 1; }
.sheet.tight .in .box { width: 2.6mm; height: 2.6mm; margin: 0 0.3mm; }
.sheet.tight .upright span { max-height: 18mm; }
.sheet.tight .blank { min-width: 9mm; height: 3mm; }
.sheet.tight .reads, .sheet.tight .scrap { margin: 0; font-size: 7.5pt; line-height: 1.15; }
.sheet.tight .below { gap: 3mm; margin-top: 1mm; }
.sheet.tight .outcomes { font-size: 7.5pt; line-height: 1.05; }
.sheet.tight .outcomes td, .sheet.tight .outcomes th { padding-top: 0.2mm; padding-bottom: 0.2mm; }
.sheet.tight .outcomes tbody tr { height: 4mm; }
.sheet.tight .lot { max-height: 52mm; }
.sheet .mixed, .sheet .fraction { white-space: nowrap; word-spacing: normal; }
.sheet .mixed::before, .sheet .fraction::before, .sheet .fraction::after { content: none; }
.sheet .fraction, .sheet .fraction > span { position: static; display: inline; margin: 0; font-size: 1em; line-height: inherit; vertical-align: baseline; clip-path: none; }
.sheet .to .fraction { display: inline-grid; justify-items: center; vertical-align: middle; font-size: 0.66em; line-height: 1; }
.sheet .to .fraction::before, .sheet .to .fraction::after { padding: 0 0.08em; }
.sheet .to .mixed::before { content: attr(data-whole); content: attr(data-whole) / ""; margin-right: 0.1em; }
.sheet .to .fraction { position: relative; margin: 0; }
.sheet .to .fraction > span { position: absolute; inset: 0; overflow: hidden; clip-path: inset(50%); }
.sheet .to .fraction::before { content: attr(data-above); content: attr(data-above) / ""; }
.sheet .to .fraction::after { content: attr(data-below); content: attr(data-below) / ""; min-width: 100%; border-top: 0.3mm solid; text-align: center; }
.sheet.tight .to .fraction { margin: -0.2em 0; font-size: 0.62em; }
.sheet .to small .fraction { display: inline; margin: 0; font-size: 1em; }
.sheet .to small .fraction > span { position: static; clip-path: none; }
.sheet .to small .mixed::before, .sheet .to small .fraction::before, .sheet .to small .fraction::after { content: none; }
.tags-sheet h1 { margin: 0; font-size: inherit; line-height: inherit; }
.tags-sheet .all { display: flex; flex-wrap: wrap; gap: 0; margin-top: 2mm; }
.tags-sheet figure { width: 25%; margin: 0; padding: 2mm; border: 0.2mm dashed #000; break-inside: avoid; }
.tags-sheet figcaption { display: flex; flex-wrap: wrap; align-items: baseline; justify-content: space-between; gap: 0 3mm; }
.tags-sheet figcaption > b { font-size: 16pt; line-height: 1.1; overflow-wrap: anywhere; }
.tags-sheet figcaption span b { font-size: 13pt; }
.tags-sheet svg { display: block; width: 100%; color: #000; }
@media screen {
  .sheet, .tags-sheet { max-width: 192mm; margin: 4mm auto; padding: 4mm; }
}
"""


def document(title: str, body: Markup) -> str:
    """A whole document for a browser to print.

    >>> document("A & B", el("p", "x"))[:74]
    '<!doctype html>\\n<html lang="en"><head><meta charset="utf-8"/><meta name="v'
    """
    head = el(
        "head",
        el("meta", charset="utf-8"),
        el("meta", name="viewport", content="width=device-width, initial-scale=1"),
        el("title", title),
        el("style", Markup(STYLE)),
    )
    return join([Markup("<!doctype html>\n"), el("html", head, el("body", el("main", body)), lang="en"), "\n"])
