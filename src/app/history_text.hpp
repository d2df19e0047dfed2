#pragma once

#include "practice/what_next.hpp"

#include <nlohmann/json.hpp>

namespace landfall::app {

/// A history and what follows from it, as the command prints it.
struct HistoryReport {
  practice::History history;
  std::vector<practice::Proposal> next;
  std::vector<int> beats; ///< Of each proposal, a minute.
};

/// For the terminal.
std::string history_text(const HistoryReport& report);

nlohmann::ordered_json history_json(const HistoryReport& report);

/// A line for each chorus, after a line of names.
std::string history_csv(std::span<const practice::ChorusRecord> records);

/// `landed 8 of 20`
std::string landings_words(const practice::Landings& landings);
/// `2 hours 5 minutes`, `under a minute`
std::string length_words(practice::Minutes length);

} // namespace landfall::app
