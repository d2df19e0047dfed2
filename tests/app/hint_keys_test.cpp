#include "app/actions.hpp"
#include "app/help.hpp"
#include "app/hint_keys.hpp"
#include "app/status_lists.hpp"
#include "theory/words.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

std::string name_of(const char* hint, std::size_t at) {
  const auto key = key_of_hint(hint, at);
  return key ? key_name(*key) : "";
}

} // namespace

TEST_CASE("every key of the action table can be pressed by its name") {
  for (const auto& row : action_table())
    for (const auto name : {row.key, row.other_key}) {
      if (name.empty())
        continue;
      CAPTURE(std::string(name));
      const auto key = key_named(name);
      REQUIRE(key);
      CHECK(action_of(*key) == row.action);
    }
}

TEST_CASE("a hint means the key that is clicked, on its words the first, without a key nothing") {
  CHECK(name_of("[ ] place", 0) == "[");
  CHECK(name_of("[ ] place", 2) == "]");
  CHECK(name_of("[ ] place", 6) == "[");
  CHECK(name_of("]  Right", 0) == "]"); // as the help page writes two keys
  CHECK(name_of("k key", 4) == "k");
  CHECK(name_of("space stop", 8) == "Space");
  CHECK(name_of("Left Right bar", 6) == "Right");
  CHECK(name_of("Ctrl+Up Ctrl+Down move it", 20) == "Ctrl+Up");
  CHECK(name_of("V keep as a phrase", 10) == "V");
  CHECK(name_of("the computer's keys play notes", 3).empty());
  CHECK(name_of("", 0).empty());
}

TEST_CASE("the usual hints are all keys of the table") {
  for (const bool playing : {false, true}) {
    const auto hints = usual_hints(playing);
    for (std::size_t from = 0; from < hints.size();) {
      const auto end = std::min(hints.find("  ", from), hints.size());
      const auto key = key_of_hint(hints.substr(from, end - from), 0);
      CAPTURE(hints.substr(from));
      REQUIRE(key);
      CHECK(action_of(*key));
      from = std::min(hints.find_first_not_of(' ', end), hints.size());
    }
  }
}

TEST_CASE("lists of keys, tempos and feels open on the present one") {
  const auto keys = key_list(theory::parse_key("F#m").value());
  CHECK(keys.items.size() == 12);
  CHECK(keys.value() == "key:0");
  for (const auto& item : keys.items)
    CHECK(item.text.find("minor") != std::string::npos);
  auto tempi = tempo_list(96);
  CHECK(tempi.value() == "tempo:96");
  tempi.type("14");
  tempi.type("4");
  CHECK(tempi.value() == "tempo:144");
  CHECK(feel_list({"bossa", "swing"}, "swing").value() == "feel:swing");
}
