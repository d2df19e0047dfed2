#include "app/status_lists.hpp"

#include "app/words.hpp"

namespace landfall::app {
namespace {

constexpr int half_steps = 12;

void add(ChoiceList& list, std::string text, std::string value, bool present) {
  if (present)
    list.selected = static_cast<int>(list.items.size());
  list.items.push_back({std::move(text), "", std::move(value), {}, present});
}

} // namespace

ChoiceList key_list(theory::Key present) {
  ChoiceList list;
  list.title = "Key";
  for (int by = 1 - half_steps / 2; by <= half_steps / 2; ++by)
    add(list, key_words(transposed(present, by)), "key:" + std::to_string(by), by == 0);
  return list;
}

ChoiceList tempo_list(long present) {
  ChoiceList list;
  list.title = "Tempo";
  list.has_query = true;
  for (long beats = std::lround(min_bpm); beats <= std::lround(max_bpm); ++beats)
    add(list, std::to_string(beats), "tempo:" + std::to_string(beats), beats == present);
  return list;
}

ChoiceList feel_list(const std::vector<std::string>& names, const std::string& present) {
  ChoiceList list;
  list.title = "Feel";
  for (const auto& name : names)
    add(list, feel_words(name), "feel:" + name, name == present);
  return list;
}

} // namespace landfall::app
