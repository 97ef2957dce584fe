#pragma once

#include "web/fields.hpp"
#include "web/reply.hpp"
#include "web/surroundings.hpp"

#include <string>
#include <vector>

namespace eggfall::web {

/// What tables are taken for. Fields: those of a reading (docs/browser.md).
///
/// Reply: understood, told and noticed (lines), columns and rows (texts) of the counts table;
/// groups, each with trial, name, role, classes and animals; and what is missing that a verdict
/// hangs on: host, and the groups without a class. File: counts.csv.
Reply understand(Fields& fields, const std::vector<std::string>& files,
                 const Surroundings& surroundings);

/// Tables to verdicts. Fields: those of a reading, larvae, and the settings of an analysis.
///
/// Reply: told and noticed (lines). Files: analysis.json, report.html, letter.html, letter.docx,
/// results.csv, results.xlsx, counts.csv and summary.txt, of which "wanted" may name some.
Reply analyse_tables(Fields& fields, const std::vector<std::string>& files,
                     const Surroundings& surroundings);

} // namespace eggfall::web
