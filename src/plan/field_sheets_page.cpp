#include "plan/field_sheets_text.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/paper_form.hpp"
#include "plan/blank_counts.hpp"
#include "plan/dose_strip.hpp"
#include "plan/field_sheet_page.hpp"
#include "plan/field_sheet_words.hpp"
#include "plan/group_sign.hpp"
#include "plan/visits_figure.hpp"
#include "plan/yard_sheets.hpp"
#include "report/safety_note.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view field_sheets_style = R"css(
.fill td:nth-child(2) { text-align: left; overflow-wrap: anywhere; font-size: 1.1rem; }
.fill td:last-child { min-width: 7rem; }
.groups tbody th { min-width: 6.2rem; }
.groups .sign { display: inline-block; width: 1.5rem; margin-right: 0.4rem; vertical-align: middle; }
.front { display: flex; flex-wrap: wrap; align-items: flex-start; gap: 0.5rem 1.5rem; }
.visits { flex: 10 1 20rem; max-width: 26rem; min-width: 0; margin: 0; }
.front .key { flex: 9 1 16rem; margin: 0; }
.kit { padding-left: 0; list-style: none; columns: 20rem 2; }
.kit li { break-inside: avoid; padding-left: 1.6rem; text-indent: -1.6rem; }
.kit li::before { content: ""; display: inline-block; width: 0.8rem; height: 0.8rem;
  margin-right: 0.8rem; border: 1px solid var(--ink); }
.kit .sign { display: inline-block; width: 1rem; vertical-align: -0.15rem; }
@media print {
  .fill td, .fill th { height: 9.2mm; } .fill thead th { height: auto; }
  .fill td:last-child { min-width: 25mm; } .groups .sign { width: 5mm; }
  main { line-height: 1.3; } main p { margin: 1.5mm 0; }
  .schedule { break-inside: avoid; }
  .front { flex-wrap: nowrap; gap: 5mm; } .visits { flex: none; width: 96mm; }
  .front .key { flex: 1 1 0; } .front .key li { flex-basis: 100%; }
  .visits figcaption { font-size: 8.5pt; }
}
)css";

/// Columns of chambers beyond this would not fit the paper.
constexpr int most_chamber_columns = 8;

std::string line_number(std::size_t i) {
  return fmt::format("{}", i + 1);
}

/// A listed animal's tag; a line that is not listed is to be filled in.
std::string tag_cell(const FieldSheets& sheets, const PlannedAnimal& each) {
  return sheets.question.mob.empty() ? std::string() : each.animal.tag;
}

/// A column that says nothing of any group is left out.
void drop_empty_columns(HtmlTable& table) {
  for (std::size_t column = table.heads.size(); column-- > 0;) {
    const bool empty = std::ranges::all_of(
        table.rows, [column](const std::vector<std::string>& row) { return row[column].empty(); });
    if (!empty)
      continue;
    const auto offset = static_cast<std::ptrdiff_t>(column);
    table.heads.erase(table.heads.begin() + offset);
    for (std::vector<std::string>& row : table.rows)
      row.erase(row.begin() + offset);
  }
}

void add_groups(pugi::xml_node parent, const FieldSheets& sheets) {
  HtmlTable table{"The groups",
                  {"Group", "Treatment", "Label's dose", "Animals", "Mean weight, kg",
                   "Lightest to heaviest", "Mean earlier count, EPG", "Drench for all, mL"},
                  {}};
  for (std::size_t i = 0; i < sheets.balance.size(); ++i) {
    const PlannedGroup& group = sheets.question.groups[i];
    const GroupBalance& balance = sheets.balance[i];
    const auto shown = [](const std::optional<double>& value, const char* format) {
      return value ? fmt::format(fmt::runtime(format), *value) : std::string();
    };
    table.rows.push_back(
        {group.name, treatment_text(group), label_text(group), fmt::format("{}", balance.animals),
         shown(balance.mean_kg, "{:.1f}"),
         balance.least_kg ? fmt::format("{:g} to {:g}", *balance.least_kg, *balance.most_kg) : "",
         shown(balance.mean_epg, "{:.0f}"),
         balance.doses_ml > 0 ? fmt::format("{:g}", balance.doses_ml) : ""});
  }
  drop_empty_columns(table);
  pugi::xml_node rows = add_wide_table(parent, table, "words groups").child("tbody");
  const std::vector<GroupSign> signs = group_signs(sheets.question.groups);
  std::size_t group = 0;
  for (pugi::xml_node row : rows.children()) {
    pugi::xml_node name = row.first_child();
    add_inked_svg(name, signs[group++].svg);
    name.prepend_move(name.last_child());
  }
}

void add_schedule(pugi::xml_node parent, const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const bool control = question.has_control();
  HtmlTable table{"What to do when", {"When", "What"}, {}};
  table.rows.push_back(
      {question.day0 ? "Day 0: " + date_in_words(*question.day0) : "Day 0",
       fmt::format(
           "Take fresh faeces from every animal of every group. Weigh each animal, and give each "
           "treated one the label's dose for its own weight. {}Mark each animal last, by the mark "
           "of its group, and keep the groups under the same conditions until the second sample.",
           control ? "Leave the control untreated. " : "")});
  table.rows.push_back({"Within a few days, as your laboratory says",
                        "Count. Until then keep samples cool, but do not freeze them: eggs "
                        "hatch in the warm (practice). Faeces for a larval culture are kept "
                        "otherwise, since the cold can kill eggs: ask the laboratory first "
                        "(practice)."});
  std::string second = fmt::format("Take fresh faeces from the same animals{}. ",
                                   control ? ", the control too" : "");
  for (const std::string& note : second_sample_notes(sheets))
    second += note + " ";
  second.pop_back();
  table.rows.push_back({second_sample_days(sheets), second});
  table.rows.push_back({"After that", "Count, copy all into the counts table, and analyse it: "
                                      "eggfall analyse, and the table's name. Talk the result "
                                      "over with the veterinarian before changing drench."});
  add_wide_table(parent, table, "words schedule");
}

void add_kit_list(pugi::xml_node parent, std::string_view heading,
                  const std::vector<std::string>& items) {
  add_element(parent, "h2", heading);
  pugi::xml_node list = add_element(parent, "ul", "", "kit");
  for (const std::string& item : items)
    add_element(list, "li", item);
}

/// The drenches, by the signs of their groups, so that no gun goes to another group.
void add_drenches(pugi::xml_node list, const FieldSheets& sheets) {
  const std::vector<GroupSign> signs = group_signs(sheets.question.groups);
  for (std::size_t i = 0; i < signs.size(); ++i) {
    const PlannedGroup& group = sheets.question.groups[i];
    if (!group.treated())
      continue;
    pugi::xml_node item = add_element(list, "li");
    add_inked_svg(item, signs[i].svg);
    const std::string treatment = treatment_text(group);
    append_words(item, fmt::format(" {}: {} for {}{}", signs[i].shape,
                                   treatment.empty() ? "drench" : treatment, group.name,
                                   sheets.balance[i].doses_ml > 0
                                       ? fmt::format(", {:g} mL and some to spare",
                                                     sheets.balance[i].doses_ml)
                                       : std::string()));
  }
}

void add_kit(pugi::xml_node parent, const FieldSheets& sheets) {
  const std::size_t samples = sheets.animals.size();
  const std::vector<std::string> yard{
      "Disposable gloves, a box and a spare one; soap, water and towels for the hands",
      "Overalls and boots that are washed, or left, before leaving the farm",
      fmt::format("Sample pots or bags: {} for each of the two days, and spare ones", samples),
      "Labels or a waterproof pen: line number, tag and date on each pot, on every visit, and no "
      "group, so that who counts does not learn it",
      "A cool box with cold packs, out of the sun",
      "Scales for the animals, checked with a known weight",
      "Marking spray, raddle or crayon made for livestock, that lasts 14 days or so",
      "These sheets on a clipboard, and pencils",
      "For each drench a gun, applicator or syringe of its own, its group's sign drawn on it: "
      "several "
      "doses checked in a measuring cylinder",
      "Each drench in date, stored as the label says, shaken; its label at hand"};
  const std::vector<std::string> bench{
      "Gloves; eye protection where flotation salts are handled",
      "Scales to 0.1 g, checked",
      "Flotation fluid, its density measured",
      "Measuring cylinders, sieve or gauze, beakers, stirrers, pipettes",
      "Counting slides, clean and without scratches",
      "Microscope and tally counter",
      "Disinfectant and a bin for waste, and soap for the hands"};
  add_kit_list(parent, "Kit for the yard", yard);
  add_drenches(parent.last_child(), sheets);
  add_element(parent, "p",
              marking_advice(sheets.question) +
                  " All kit here is common practice, without a source.");
  add_kit_list(parent, "Kit for the bench", bench);
}

/// How samples are counted, or lines to write it on.
void add_bench_figures(pugi::xml_node section, const std::optional<BenchFigures>& bench) {
  if (!bench) {
    add_entries(section, {"Faeces, g", "Made up to, mL", "Chambers counted", "Of mL each",
                          "So one egg is EPG"});
    return;
  }
  add_element(section, "p",
              fmt::format("{:g} g of faeces in {:g} mL; {} chamber{} of {:g} mL: one egg in all "
                          "stands for {:.4g} EPG. Write down any sample made up differently.",
                          bench->faeces_g, suspension_ml(*bench), bench->chambers,
                          bench->chambers == 1 ? "" : "s", *bench->chamber_volume_ml,
                          multiplication_factor(*bench).value()));
}

std::vector<std::string> bench_heads(const FieldSheetQuestion& question,
                                     std::string_view occasion) {
  std::vector<std::string> heads{"Line", "Animal", "Faeces, g"};
  const std::size_t chambers = egg_columns(question, occasion).size();
  const bool apart = question.told_apart.empty() && chambers > 1 &&
                     chambers <= static_cast<std::size_t>(most_chamber_columns);
  if (apart)
    for (std::size_t chamber = 1; chamber <= chambers; ++chamber)
      heads.push_back(fmt::format("Chamber {}", chamber));
  heads.emplace_back(question.told_apart.empty() ? "Eggs in all" : "Other eggs, in all");
  for (const std::string& kind : question.told_apart)
    heads.push_back(capitalised(kind) + ", in all");
  heads.emplace_back("Notes");
  return heads;
}

/// The same lines a page as the yard sheet of the second sample has, and nothing that tells the
/// groups.
void add_bench_sheet(pugi::xml_node body, const FieldSheets& sheets, std::string_view occasion) {
  const FieldSheetQuestion& question = sheets.question;
  for (const FieldSheetPage& page :
       equal_pages(sheets.animals.size(), most_lines(question.groups.size()))) {
    pugi::xml_node section = add_field_sheet_page(
        body, question, fmt::format("Bench sheet: samples {} treatment", occasion), page,
        {"Date counted", "Counted by", "Method and fluid"});
    add_bench_figures(section, question.bench_of(occasion));
    HtmlTable table{"",
                    bench_heads(question, occasion),
                    {},
                    fmt::format("Samples {} treatment. {}", occasion, lines_text(page, sheets))};
    for (std::size_t i = page.first; i < page.first + page.lines; ++i)
      table.rows.push_back({line_number(i), tag_cell(sheets, sheets.animals[i])});
    add_form(section, table);
    add_element(section, "p",
                "Write 0 where no egg was seen, and leave the line empty where there was no "
                "sample. Groups are not named here, so that who counts does not know them. Wear "
                "gloves and wash hands; flotation salts irritate skin and eyes.",
                "note");
  }
}

} // namespace

std::string field_sheets_page(const FieldSheets& sheets) {
  const std::string host = sheets.question.host;
  const std::string title =
      host.empty() ? "Sheets for a drench test" : "Sheets for a drench test: " + host;
  HtmlPage page(title, std::string(form_style) + std::string(yard_style) +
                           std::string(dose_strip_style) + std::string(field_sheets_style) +
                           paper_foot(foot_text(sheets.question)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  if (!sheets.question.farm.empty())
    add_element(body, "p", fmt::format("Farm: {}.", sheets.question.farm), "known");
  add_entries(body, sheets.question.farm.empty()
                        ? std::vector<std::string>{"Farm", "Veterinarian", "Telephone"}
                        : std::vector<std::string>{"Veterinarian", "Telephone"});
  add_element(body, "p", allocation_text(sheets));
  pugi::xml_node front = add_element(body, "div", "", "front");
  add_figure(front, visits_figure(sheets), "visits");
  add_group_key(front, sheets);
  add_groups(body, sheets);
  add_schedule(body, sheets);
  for (const std::string& caution : field_sheet_cautions(sheets))
    add_element(body, "p", caution);
  add_element(body, "p", cautions());
  add_kit(body, sheets);
  add_treatment_sheet(body, sheets);
  add_bench_sheet(body, sheets, "before");
  add_second_sheet(body, sheets);
  add_bench_sheet(body, sheets, "after");
  add_element(body, "p",
              fmt::format("Made by eggfall {}, seed {}.", version(), sheets.question.seed), "note");
  return page.text();
}

} // namespace eggfall
