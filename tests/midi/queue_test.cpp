#include "midi/queue.hpp"

#include <doctest/doctest.h>

#include <random>
#include <thread>

using landfall::midi::Queue;

TEST_CASE("a queue gives back what was pushed, in order") {
  Queue<int> queue(4);
  int item = 0;
  CHECK_FALSE(queue.pop(item));
  for (int round = 0; round < 10; ++round) {
    for (int i = 0; i < 4; ++i)
      CHECK(queue.push(round * 4 + i));
    for (int i = 0; i < 4; ++i) {
      REQUIRE(queue.pop(item));
      CHECK(item == round * 4 + i);
    }
  }
}

TEST_CASE("a full queue refuses, counts and keeps what it holds") {
  Queue<int> queue(5);
  REQUIRE(queue.capacity() == 8);
  for (int i = 0; i < 8; ++i)
    CHECK(queue.push(i));
  CHECK_FALSE(queue.push(8));
  CHECK_FALSE(queue.push(9));
  CHECK(queue.drops() == 2);
  int item = -1;
  for (int i = 0; i < 8; ++i) {
    REQUIRE(queue.pop(item));
    CHECK(item == i);
  }
  CHECK_FALSE(queue.pop(item));
  CHECK(item == 7);
}

TEST_CASE("peek leaves the item") {
  Queue<int> queue(2);
  queue.push(3);
  int item = 0;
  CHECK(queue.peek(item));
  CHECK(item == 3);
  CHECK(queue.pop(item));
  CHECK_FALSE(queue.peek(item));
}

TEST_CASE("two threads hammering: nothing lost, doubled, torn or reordered") {
  struct Item {
    std::uint64_t number;
    std::uint64_t check;
  };
  constexpr std::uint64_t salt = 0x9E3779B97F4A7C15U;
  constexpr std::uint64_t total = 300'000;
  Queue<Item> queue(64);
  std::thread pusher([&queue] {
    std::minstd_rand random(1);
    for (std::uint64_t i = 0; i < total;) {
      for (auto burst = random() % 100; burst > 0 && i < total; --burst)
        if (queue.push({i, i ^ salt}))
          ++i;
      std::this_thread::yield();
    }
  });
  std::uint64_t wrong = 0;
  std::minstd_rand random(2);
  for (std::uint64_t expected = 0; expected < total;) {
    Item item{};
    for (auto burst = random() % 100; burst > 0 && queue.pop(item); --burst, ++expected)
      if (item.number != expected || item.check != (expected ^ salt))
        ++wrong;
    std::this_thread::yield();
  }
  pusher.join();
  CHECK(wrong == 0);
}
