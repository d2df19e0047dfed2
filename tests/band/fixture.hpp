#pragma once

#include "band/band.hpp"

#include <map>
#include <string>
#include <vector>

namespace landfall::band::testing {

/// Feels by name.
class Book : public FeelBook {
public:
  void add(Feel feel) {
    const auto name = feel.name;
    feels_.insert_or_assign(name, std::move(feel));
  }

  const Feel* find(std::string_view name) const override {
    const auto at = feels_.find(name);
    return at == feels_.end() ? nullptr : &at->second;
  }

  std::vector<std::string> names() const {
    std::vector<std::string> result;
    for (const auto& entry : feels_)
      result.push_back(entry.first);
    return result;
  }

private:
  std::map<std::string, Feel, std::less<>> feels_;
};

/// Every feel in songs/feels/.
const Book& shipped();

/// The text of a file under the source folder.
std::string read_source(const std::string& path);

/// A form from chord symbols: bars between `|`, chords spread evenly over the beats, `NC` for N.C.,
/// `%` for the chord going on, `!` before a bar that starts a section.
song::Form form_of(const std::string& changes, const std::string& key, const std::string& feel,
                   song::Meter meter = {4, 4});

/// Progressions that touch everything the planner must cope with, in the feel's name.
std::vector<song::Form> forms(const std::string& feel);

/// The program's spelling of every chord symbol of the oracle, on a root.
std::vector<std::string> oracle_symbols(const std::string& root);

Request request_for(const song::Form& form, int chorus = 0, double intensity = 0.5,
                    std::uint64_t seed = 1);

} // namespace landfall::band::testing
