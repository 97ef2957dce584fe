#include "plan/field_sheets_text.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/paper_form.hpp"
#include "plan/blank_counts.hpp"
#include "plan/field_sheet_words.hpp"
#include "report/safety_note.hpp"

#include <fmt/format.h>

#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view field_sheets_style = R"css(
.fill td:nth-child(2), .fill td:nth-child(3) { text-align: left; overflow-wrap: anywhere; }
.fill td:last-child { min-width: 7rem; }
.kit { padding-left: 0; list-style: none; columns: 20rem 2; }
.kit li { break-inside: avoid; padding-left: 1.6rem; text-indent: -1.6rem; }
.kit li::before { content: ""; display: inline-block; width: 0.8rem; height: 0.8rem;
  margin-right: 0.8rem; border: 1px solid var(--ink); }
@media print { .fill td:last-child { min-width: 25mm; } }
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

void add_groups(pugi::xml_node parent, const FieldSheets& sheets) {
  HtmlTable table{"The groups",
                  {"Group", "Treatment", "Label's dose", "Animals", "Mean weight, kg",
                   "Lightest to heaviest", "Mean earlier count, EPG", "Drench, mL"},
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
  add_wide_table(parent, table, "words");
}

void add_schedule(pugi::xml_node parent, const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const bool control = question.has_control();
  HtmlTable table{"What to do when", {"When", "What"}, {}};
  table.rows.push_back(
      {question.day0 ? "Day 0: " + date_in_words(*question.day0) : "Day 0",
       fmt::format(
           "Take fresh faeces from every animal of every group. Weigh each animal, and give each "
           "treated one the label's dose for its own weight. {}Mark each animal so that its group "
           "can be told from afar, and keep the groups under the same conditions until the second "
           "sample.",
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
  add_wide_table(parent, table, "words");
}

void add_kit(pugi::xml_node parent, const FieldSheets& sheets) {
  const std::size_t samples = sheets.animals.size();
  const std::vector<std::string> yard{
      "Disposable gloves, a box and a spare one; soap, water and towels for the hands",
      "Overalls and boots that are washed, or left, before leaving the farm",
      fmt::format("Sample pots or bags: {} for each of the two days, and spare ones", samples),
      "Labels or a waterproof pen: animal and date on each sample",
      "A cool box with cold packs, out of the sun",
      "Scales for the animals, checked with a known weight",
      "Drench gun, applicator or syringe: several doses checked in a measuring cylinder",
      "The drench: in date, stored as the label says, shaken; the label at hand",
      "Marking spray or raddle, a colour a group",
      "These sheets on a clipboard, and pencils"};
  const std::vector<std::string> bench{
      "Gloves; eye protection where flotation salts are handled",
      "Scales to 0.1 g, checked",
      "Flotation fluid, its density measured",
      "Measuring cylinders, sieve or gauze, beakers, stirrers, pipettes",
      "Counting slides, clean and without scratches",
      "Microscope and tally counter",
      "Disinfectant and a bin for waste, and soap for the hands"};
  for (const auto& [heading, items] :
       {std::pair{"Kit for the yard", &yard}, std::pair{"Kit for the bench", &bench}}) {
    add_element(parent, "h2", heading);
    pugi::xml_node list = add_element(parent, "ul", "", "kit");
    for (const std::string& item : *items)
      add_element(list, "li", item);
  }
  add_element(parent, "p", "The kit is common practice; no source.", "note");
}

/// For the sheets that are carried into the yard, where the first page may not be.
constexpr std::string_view yard_caution =
    "Wear gloves and wash hands. Follow the label for dose, route, species and withholding period, "
    "and local rules.";

void add_treatment_sheet(pugi::xml_node body, const FieldSheets& sheets) {
  pugi::xml_node section = add_element(body, "section", "", "sheet");
  add_element(section, "h2", "Yard sheet: day of treatment");
  add_entries(section,
              {"Farm",
               sheets.question.day0 ? "Date, if not " + date_in_words(*sheets.question.day0)
                                    : std::string("Date"),
               "Filled in by", "Withheld by the label, days: meat", "milk",
               "Not for slaughter before"});
  HtmlTable table{
      "",
      {"Line", "Animal", "Group", "Weight, kg", "Dose, mL", "Given, mL", "Sample", "Notes"},
      {},
      "Day of treatment"};
  for (std::size_t i = 0; i < sheets.animals.size(); ++i) {
    const PlannedAnimal& each = sheets.animals[i];
    const PlannedGroup& group = sheets.question.groups[each.group];
    table.rows.push_back({line_number(i), tag_cell(sheets, each), group.name,
                          each.animal.weight_kg ? fmt::format("{:g}", *each.animal.weight_kg) : "",
                          !group.treated() ? "none"
                          : each.dose_ml   ? fmt::format("{:g}", *each.dose_ml)
                                           : ""});
    if (!group.treated())
      table.rows.back().emplace_back("none");
  }
  add_form(section, table);
  add_element(section, "p",
              "Sample: a tick when it is taken. Given: what the animal really got; if it spat or "
              "was missed, say so in the notes. Weights printed here are those of the list: weigh "
              "again if they are old.",
              "note");
  add_element(section, "p", yard_caution, "note");
}

void add_second_sheet(pugi::xml_node body, const FieldSheets& sheets) {
  pugi::xml_node section = add_element(body, "section", "", "sheet");
  add_element(section, "h2", "Yard sheet: second sample");
  add_element(section, "p", second_sample_days(sheets) + ".");
  add_entries(section, {"Farm", "Date", "Filled in by"});
  HtmlTable table{"", {"Line", "Animal", "Group", "Sample", "Notes"}, {}, "Second sample"};
  for (std::size_t i = 0; i < sheets.animals.size(); ++i) {
    const PlannedAnimal& each = sheets.animals[i];
    table.rows.push_back(
        {line_number(i), tag_cell(sheets, each), sheets.question.groups[each.group].name});
  }
  add_form(section, table);
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

void add_bench_sheet(pugi::xml_node body, const FieldSheets& sheets, std::string_view occasion) {
  const FieldSheetQuestion& question = sheets.question;
  pugi::xml_node section = add_element(body, "section", "", "sheet");
  add_element(section, "h2", fmt::format("Bench sheet: samples {} treatment", occasion));
  add_bench_figures(section, question.bench_of(occasion));
  add_entries(section, {"Date counted", "Counted by", "Method and fluid"});
  HtmlTable table{
      "", {"Line", "Animal", "Faeces, g"}, {}, fmt::format("Samples {} treatment", occasion)};
  const std::size_t chambers = egg_columns(question, occasion).size();
  const bool apart = question.told_apart.empty() && chambers > 1 &&
                     chambers <= static_cast<std::size_t>(most_chamber_columns);
  if (apart)
    for (std::size_t chamber = 1; chamber <= chambers; ++chamber)
      table.heads.push_back(fmt::format("Chamber {}", chamber));
  table.heads.emplace_back(question.told_apart.empty() ? "Eggs in all" : "Other eggs, in all");
  for (const std::string& kind : question.told_apart)
    table.heads.push_back(capitalised(kind) + ", in all");
  table.heads.emplace_back("Notes");
  for (std::size_t i = 0; i < sheets.animals.size(); ++i)
    table.rows.push_back({line_number(i), tag_cell(sheets, sheets.animals[i])});
  add_form(section, table);
  add_element(section, "p",
              "Write 0 where no egg was seen, and leave the line empty where there was no sample. "
              "Groups are not named here, so that who counts does not know them.",
              "note");
}

} // namespace

std::string sheets_page(const FieldSheets& sheets) {
  const std::string host = sheets.question.host;
  const std::string title =
      host.empty() ? "Sheets for a drench test" : "Sheets for a drench test: " + host;
  HtmlPage page(title, std::string(form_style) + std::string(field_sheets_style));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  add_entries(body, {"Farm", "Veterinarian", "Telephone"});
  add_element(body, "p", allocation_text(sheets));
  add_groups(body, sheets);
  add_schedule(body, sheets);
  for (const std::string& caution : sheet_cautions(sheets))
    add_element(body, "p", caution);
  add_element(body, "p", cautions());
  pugi::xml_node kit = add_element(body, "section", "", "sheet");
  add_kit(kit, sheets);
  add_treatment_sheet(body, sheets);
  add_bench_sheet(body, sheets, "before");
  add_second_sheet(body, sheets);
  add_bench_sheet(body, sheets, "after");
  add_element(body, "p",
              fmt::format("Made by eggfall {}, seed {}.", version(), sheets.question.seed), "note");
  return page.text();
}

} // namespace eggfall
