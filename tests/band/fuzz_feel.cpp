// Any bytes give a feel or an error; what is read can be planned, in its own metre and others.

#include "band/band.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace landfall;

namespace {

class OneFeel : public band::FeelBook {
public:
  explicit OneFeel(const band::Feel& feel) : feel_(feel) {}
  const band::Feel* find(std::string_view) const override { return &feel_; }

private:
  const band::Feel& feel_;
};

song::Form form_in(song::Meter meter) {
  song::Form form;
  const theory::Chord minor{{}, "m7", {{1, 0}, {3, -1}, {5, 0}, {7, -1}}, {}};
  const theory::Chord dominant{{theory::Letter::f, 0}, "7", {{1, 0}, {3, 0}, {5, 0}, {7, -1}}, {}};
  for (int number = 1; number <= 5; ++number) {
    song::Bar bar;
    bar.number = number;
    bar.meter = meter;
    bar.start = form.length;
    bar.chords.push_back({{0}, number % 2 == 0 ? minor : dominant, true});
    form.length += song::bar_length(meter);
    form.bars.push_back(bar);
  }
  return form;
}

void plan(const band::Feel& feel, song::Meter meter) {
  const auto form = form_in(meter);
  for (int chorus = 0; chorus < 2; ++chorus) {
    band::Request request;
    request.form = &form;
    request.next = chorus == 0 ? &form : nullptr;
    request.chorus = chorus;
    request.intensity = chorus;
    request.ending = chorus == 1;
    for (const auto& event : band::plan_chorus(request, OneFeel(feel)))
      if (event.length <= Ticks{0} || event.at >= form.length || event.velocity < 1 ||
          event.velocity > 127)
        std::abort();
  }
  (void)band::plan_count_in(form, 2, OneFeel(feel));
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto feel = band::parse_feel({reinterpret_cast<const char*>(data), size});
  if (!feel)
    return 0;
  for (const song::Meter meter : {feel->meter, song::Meter{3, 4}, song::Meter{7, 8}})
    plan(*feel, meter);
  return 0;
}
