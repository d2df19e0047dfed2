#include "app/help.hpp"

#include "app/actions.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

std::string keys_of(const ActionRow& row) {
  std::string keys(row.key);
  if (!row.other_key.empty())
    keys.append("  ").append(row.other_key);
  return keys;
}

} // namespace

render::HelpPage help_page() {
  render::HelpPage page;
  page.title = "All keys";
  for (const auto& row : action_table()) {
    const auto known =
        std::find_if(page.sections.begin(), page.sections.end(),
                     [&](const render::HelpSection& s) { return s.title == row.section; });
    auto& section = known != page.sections.end() ? *known : page.sections.emplace_back();
    section.title = row.section;
    section.rows.push_back({keys_of(row), std::string(row.help)});
  }
  return page;
}

std::string usual_hints(bool playing) {
  return std::string(playing ? "space stop" : "space start") +
         "  [ ] place  k key  n notes  s songs  ? all keys";
}

std::vector<std::string> care_lines() {
  return {"Warm up, keep the volume down, rest your hands, and stop when it hurts.",
          "Pain or numbness that lasts, or ringing ears, is for a doctor or a licensed therapist."};
}

} // namespace landfall::app
