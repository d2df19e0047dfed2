// Any bytes as a feel file: a feel that is read also plays.

#include "band/band.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdlib>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

class OneFeel : public band::FeelBook {
public:
  explicit OneFeel(const band::Feel& feel) : feel_(feel) {}
  const band::Feel* find(std::string_view) const override { return &feel_; }

private:
  const band::Feel& feel_;
};

song::Form form_of(const char* text) {
  return song::unroll(*song::parse_song(text));
}

const std::vector<song::Form>& forms() {
  static const std::vector<song::Form> made{
      form_of("key: A\n| A | D7 / E / | N.C. | F#m7b5 B7 | E/G# | A |\n"),
      form_of("key: Ebm\nmeter: 6/8\n| Ebm7 | Abm7 Db7 |\n"),
      form_of("key: C\nmeter: 5/4\n| Cmaj7 | F9 |\n")};
  return made;
}

void check(const std::vector<band::Event>& events) {
  const auto earlier = [](const auto& a, const auto& b) { return a.at < b.at; };
  require(std::is_sorted(events.begin(), events.end(), earlier));
  for (const band::Event& event : events)
    require(event.length > Ticks{} && event.velocity >= 1 && event.velocity <= 127);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto feel = band::parse_feel({reinterpret_cast<const char*>(data), size});
  if (!feel) {
    require(!feel.error().reason.empty() && feel.error().line >= 1 && feel.error().column >= 1);
    return 0;
  }
  const OneFeel book(*feel);
  for (const song::Form& form : forms()) {
    for (const double intensity : {0.0, 0.5, 1.0})
      check(band::plan_chorus({.form = &form, .next = &form, .intensity = intensity}, book));
    check(band::plan_chorus(
        {.form = &form, .chorus = 3, .seed = 7, .humanised = true, .ending = true}, book));
    check(band::plan_count_in(form, 2, book));
  }
  return 0;
}
