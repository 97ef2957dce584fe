#pragma once

#include "plan/field_sheets.hpp"

#include <pugixml.hpp>

#include <string_view>

// What is carried into the yard. It is read at arm's length, wet and in a hurry, so that each line
// says by shape, hatching and word whether its animal is drenched, and a dose is the largest thing
// on it.
namespace eggfall {

/// CSS of the functions below. No background says anything, since printers leave them out.
inline constexpr std::string_view yard_style = R"css(
.of { font-weight: normal; font-size: 0.8em; }
.known { margin: 0.3rem 0; } .entries b { align-self: flex-end; }
.sign { width: 2.4rem; flex: none; } .marked { width: 4rem; flex: none; }
.key { display: flex; flex-wrap: wrap; gap: 0.5rem 1rem; list-style: none; margin: 0.6rem 0;
  padding: 0.5rem; border: 2px solid var(--ink); line-height: 1.25; }
.key li { display: flex; flex: 1 1 15rem; align-items: center; gap: 0.6rem; break-inside: avoid;
  min-width: 0; }
.key span { min-width: 0; overflow-wrap: anywhere; }
.key strong { display: block; }
.how { margin: 0.3rem 0; font-size: 0.95rem; line-height: 1.35; }
.yard { width: 100%; table-layout: fixed; }
.yard th, .yard td { position: relative; height: 2.7rem; padding: 0.1rem 0.3rem;
  text-align: center; line-height: 1.15; overflow-wrap: anywhere;
  border-top: 2px solid var(--ink); }
.yard thead th { height: auto; overflow-wrap: normal; }
.yard thead .running { text-align: left; }
.yard .tag { font-size: 1.25rem; text-align: left; }
.yard .dose { font: bold 1.9rem/1 Arial, "Liberation Sans", Helvetica, sans-serif;
  font-variant-numeric: tabular-nums; text-align: right; white-space: nowrap; }
.yard .dose span { font-size: 0.68em; }
.yard .weight { text-align: right; }
.yard .mark { text-align: left; font-size: 0.85rem; }
.yard .mark strong { display: block; font-size: 0.95rem; overflow: hidden; white-space: nowrap;
  text-overflow: ellipsis; }
.yard .sign { margin: 0 auto; }
.yard .no-drench { padding: 0; }
.no-drench div { display: flex; align-items: center; gap: 0.4rem; }
.no-drench strong { font: bold 1.05rem/1.05 Arial, "Liberation Sans", Helvetica, sans-serif;
  white-space: nowrap; }
.hatch { flex: 1 1 1rem; width: auto; min-width: 0.9rem; height: 2.1rem; }
.edges { position: absolute; left: 0; top: 1px; width: 100%; height: calc(100% - 2px);
  pointer-events: none; }
.untreated + .untreated .edges line:first-child { display: none; }
@media screen and (max-width: 37rem) {
  .yard, .yard tbody, .yard caption { display: block; } .yard thead, .yard colgroup { display: none; }
  .yard tr { display: grid; grid-template-columns: 3rem minmax(0, 1fr) 9rem;
    border: 2px solid var(--ink); margin: 0 0 0.5rem; padding: 0.45rem 0.3rem; align-items: center;
    position: relative; }
  .yard th, .yard td { display: block; border: none; height: auto; position: static; }
  .untreated + .untreated .edges line:first-child { display: inline; }
  .yard .to-write { display: contents; }
  .yard .line { grid-area: 1 / 1 / 2 / 2; place-self: start; padding: 0; font-size: 0.75rem; }
  .yard .shape { grid-area: 1 / 1 / 3 / 2; } .yard .tag { grid-area: 1 / 2 / 2 / 3; }
  .yard .mark { grid-area: 2 / 2 / 3 / 3; } .yard .mark strong { white-space: normal; } .yard .amount { grid-area: 1 / 3 / 2 / 4; }
  .yard .weight { grid-area: 2 / 3 / 3 / 4; text-align: right; }
  .yard .weight::after { content: " " attr(data-head); color: var(--quiet); }
  .yard .order { grid-area: 1 / 2 / 2 / 3; text-align: left; font-size: 1.25rem; }
  .yard .dose:empty::before { content: "weigh, then by the label"; display: block; font-size: 0.9rem;
    line-height: 1.2; white-space: normal; }
  .yard .dose span:last-child::after { content: " mL"; font-size: 1rem; }
  .no-drench strong { font-size: 0.95rem; }
}
@media print {
  .key { margin: 1.5mm 0; padding: 1.5mm; gap: 1mm 3mm; font-size: 9pt; border-width: 1.5px; }
  .key li { flex-basis: 52mm; gap: 1.5mm; } .key .sign { width: 8mm; } .key .marked { width: 10mm; }
  .how { font-size: 9.5pt; line-height: 1.2; margin: 1mm 0; }
  .sheet .note { font-size: 8.5pt; line-height: 1.2; margin: 1mm 0; }
  .yard { margin: 1.5mm 0; }
  .yard th, .yard td { height: 8.5mm; padding: 0 1mm; border-top-width: 1.5px; }
  .yard thead th { height: auto; font-size: 8pt; }
  .yard .sign { width: 7mm; } .yard .tag { font-size: 13pt; } .yard .dose { font-size: 21pt; }
  .yard .mark { font-size: 8pt; } .yard .mark strong { font-size: 9pt; }
  .no-drench strong { font-size: 11.5pt; } .no-drench div { gap: 1mm; } .hatch { height: 6.6mm; }
  .sheet .entries { margin: 0; gap: 0 4mm; font-size: 10pt; }
  .sheet .entries span { padding-top: 2.4mm; } .yard .mark strong { line-height: 1.05; }
  .sheet .entries span::after { flex-basis: 15mm; }
  .sheet .known { margin: 0.5mm 0 0; }
  .sheet h2 { margin: 0; }
  @page { margin: 10mm 15mm 12mm; }
}
)css";

/// The signs of all groups, with treatment and mark: at the top of every page on which one stands.
void add_group_key(pugi::xml_node parent, const FieldSheets& sheets);

/// For day 0: of listed animals the dose of each, otherwise the order of groups to read off as they
/// come through the race. On as many equal pages as it takes, each with the key.
void add_treatment_sheet(pugi::xml_node body, const FieldSheets& sheets);

/// For the second sample; nobody's dose stands on it.
void add_second_sheet(pugi::xml_node body, const FieldSheets& sheets);

} // namespace eggfall
