// Prints, as JSON, how long it takes to make a call and to move it: medians and worst of many.

#include "trade/call_answer.hpp"
#include "trade/calls.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>

namespace {

using namespace landfall;
using namespace landfall::trade;

struct Times {
  std::vector<double> us;

  /// The best of three, so that another program's turn on the processor does not count.
  template <typename Work> void measure(Work work) {
    double best = 1e9;
    for (int i = 0; i < 3; ++i) {
      const auto start = std::chrono::steady_clock::now();
      work();
      const std::chrono::duration<double, std::micro> took =
          std::chrono::steady_clock::now() - start;
      best = std::min(best, took.count());
    }
    us.push_back(best);
  }
  void print(const char* name) {
    std::sort(us.begin(), us.end());
    std::printf("\"%s\":{\"median\":%.0f,\"p99\":%.0f,\"worst\":%.0f}", name, us[us.size() / 2],
                us[us.size() * 99 / 100], us.back());
  }
};

} // namespace

int main() {
  Times made[3], moved;
  for (std::uint64_t n = 0; n < 1500; ++n) {
    auto request = testing::varied_request(n);
    request.bars = 4;
    Phrase call;
    const auto& name = request.density.name;
    made[name == "sparse"   ? 0
         : name == "medium" ? 1
                            : 2]
        .measure([&] { call = make_call(request); });
    const auto to = testing::varied_request(n + 5000);
    const auto bars = blank_phrase(*to.form, to.bar, 4);
    Phrase there;
    moved.measure([&] { there = answer_for(call, bars, to.setting); });
  }
  std::printf("{\"call_of_4_bars_us\":{");
  made[0].print("sparse");
  std::printf(",");
  made[1].print("medium");
  std::printf(",");
  made[2].print("dense");
  std::printf(",\"target\":2000},");
  moved.print("moved_us");
  std::printf("}\n");
}
