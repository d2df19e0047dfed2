#include "midi/fake_output.hpp"
#include "midi/latest.hpp"
#include "time/transport.hpp"

#include <doctest/doctest.h>

#include <array>
#include <random>
#include <thread>
#include <vector>

using namespace landfall;
using landfall::midi::Latest;

TEST_CASE("the newest value is read, with its number") {
  Latest<int> latest(7);
  std::uint64_t version = 99;
  CHECK(latest.read(version) == 7);
  CHECK(version == 0);
  for (int i = 1; i <= 10; ++i) {
    latest.publish(i);
    CHECK(latest.read(version) == i);
    CHECK(version == static_cast<std::uint64_t>(i));
  }
}

TEST_CASE("a transport survives the way") {
  Latest<Transport> latest;
  const Transport out = midi::test::rolling({-3840}, TimePoint{Nanoseconds{987'654'321}}, {500'000})
                            .with_tempo({960}, {400'000});
  latest.publish(out);
  const Transport in = latest.read();
  CHECK(in.rolling);
  CHECK(in.time_at({10'000}) == out.time_at({10'000}));
  CHECK(in.tick_at(out.time_at({123'456})) == Ticks{123'456});
}

TEST_CASE("one thread writing, three reading: no value is torn, none comes back") {
  // so large that readers are often interrupted half-way, and overtaken
  struct Value {
    std::array<std::uint64_t, 500> words{};
  };
  constexpr std::uint64_t total = 50'000;
  Latest<Value> latest;
  std::array<std::uint64_t, 3> torn{};
  std::array<std::uint64_t, 3> back{};
  std::vector<std::thread> readers;
  for (std::size_t r = 0; r < 3; ++r)
    readers.emplace_back([&latest, &torn = torn[r], &back = back[r]] {
      std::uint64_t before = 0;
      for (std::uint64_t newest = 0; newest < total;) {
        std::uint64_t version = 0;
        const Value value = latest.read(version);
        newest = value.words[0];
        for (const auto word : value.words)
          torn += word != newest || version != newest ? 1 : 0;
        back += newest < before ? 1 : 0;
        before = newest;
      }
    });
  std::minstd_rand random(3);
  for (std::uint64_t i = 1; i <= total; ++i) {
    Value value;
    value.words.fill(i);
    latest.publish(value);
    if (random() % 4096 == 0)
      std::this_thread::yield();
  }
  for (auto& reader : readers)
    reader.join();
  for (std::size_t r = 0; r < 3; ++r) {
    CHECK(torn[r] == 0);
    CHECK(back[r] == 0);
  }
}
