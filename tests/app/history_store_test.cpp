#include "app/history_keeper.hpp"
#include "app/run_command.hpp"
#include "practice/history_sample.hpp"

#include <doctest/doctest.h>

#include <csignal>
#include <fstream>
#include <sys/resource.h>
#include <sys/wait.h>

using namespace landfall;
using namespace landfall::app;
using namespace landfall::test;
using practice::ChorusRecord;

namespace {

ear::JudgedChange landed_on(const char* chord, const char* degree) {
  ear::JudgedChange change;
  change.chord = *theory::parse_chord(chord);
  change.verdict = ear::Verdict::landed;
  change.degree = *theory::parse_degree(degree);
  return change;
}

/// A chorus with all its fields, and so many changes.
ChorusRecord full_chorus(int minute, int changes = 3) {
  ChorusRecord record = chorus(cell("Ebm", "C", "2 \"x\"; DROP"), noon(1), 0, 0);
  record.when += std::chrono::minutes{minute};
  record.over = theory::Over::key;
  record.target = "thirds";
  std::vector<ear::JudgedChange> judged(static_cast<std::size_t>(changes), landed_on("Ab7", "b7"));
  judged[0].verdict = ear::Verdict::rest;
  judged[0].degree.reset();
  judged[1].own_word = true;
  ear::Summary sums;
  sums.changes = changes;
  sums.landed = changes - 1;
  sums.rest = 1;
  sums.by_degree[7].landed = changes - 1;
  sums.deviation_mean_ms = -3.25;
  fill_in(record, judged, sums);
  return record;
}

/// Runs `body` in a process of its own, and returns what it ends with.
template <typename Body> int in_a_child(Body body) {
  const auto child = ::fork();
  if (child == 0)
    ::_exit(body());
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

void limit_files(rlim_t bytes) {
  rlimit limit{};
  ::getrlimit(RLIMIT_FSIZE, &limit);
  limit.rlim_cur = bytes;
  ::setrlimit(RLIMIT_FSIZE, &limit);
}

} // namespace

TEST_CASE("a chorus comes back from the file as it was kept") {
  const ScratchFolder folder;
  const auto file = folder.path / "deep" / "player.db";
  if (!keeps_history())
    return;
  const auto kept = full_chorus(0);
  {
    auto store = HistoryStore::open(file);
    REQUIRE(store);
    REQUIRE(store->add(full_chorus(5)) == "");
    REQUIRE(store->add(kept) == "");
  }
  const auto store = HistoryStore::open(file);
  REQUIRE(store);
  const auto records = store->choruses();
  REQUIRE(records);
  REQUIRE(records->size() == 2);
  const auto& read = records->front(); // the older one first
  CHECK(read.when == kept.when);
  CHECK(read.cell == kept.cell);
  CHECK(read.over == kept.over);
  CHECK(read.song == kept.song);
  CHECK(read.tempo == kept.tempo);
  CHECK(read.target == kept.target);
  CHECK(read.length == kept.length);
  CHECK(read.summary == kept.summary);
  CHECK(read.own_words == 1);
  CHECK(*store->changes(0) == kept.changes);
}

TEST_CASE("lights come back, and new ones replace them all") {
  const ScratchFolder folder;
  if (!keeps_history())
    return;
  auto store = HistoryStore::open(folder.path / "player.db");
  REQUIRE(store);
  practice::Fading fading;
  const std::vector first{landed_on("A7", "b7"), landed_on("D", "3")};
  fading.learn(first);
  REQUIRE(store->keep(fading) == "");
  CHECK(*store->fading() == fading);
  auto missed = first;
  missed[0].verdict = ear::Verdict::off;
  fading.learn(missed);
  REQUIRE(store->keep(fading) == "");
  CHECK(*store->fading() == fading);
  CHECK(store->fading()->lights().size() == 1);
}

TEST_CASE("what is no history is left as it is, and said in one line") {
  const ScratchFolder folder;
  const auto file = folder.path / "player.db";
  const std::string text(5000, 'x');
  std::ofstream(file) << text;
  const auto store = HistoryStore::open(file);
  REQUIRE_FALSE(store);
  CHECK(store.error().find('\n') == std::string::npos);
  std::ifstream in(file);
  CHECK(std::string(std::istreambuf_iterator<char>(in), {}) == text);
}

TEST_CASE(
    "killed in the middle of writing, all that was confirmed is there and the file is sound") {
  if (!keeps_history())
    return;
  for (int round = 0; round < 6; ++round) {
    const ScratchFolder folder;
    const auto file = folder.path / "player.db";
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const auto child = ::fork();
    if (child == 0) {
      auto store = HistoryStore::open(file);
      for (int i = 0; store; ++i)
        if (!store->add(full_chorus(i, 40)).empty() || ::write(ends[1], "x", 1) != 1)
          break;
      ::_exit(1);
    }
    ::close(ends[1]);
    int confirmed = 0;
    char byte = 0;
    while (confirmed < 10 + round * 7 && ::read(ends[0], &byte, 1) == 1)
      ++confirmed;
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(WIFSIGNALED(status));
    while (::read(ends[0], &byte, 1) == 1)
      ++confirmed;
    ::close(ends[0]);
    const auto store = HistoryStore::open(file);
    REQUIRE(store);
    CHECK(store->check() == "");
    const auto records = store->choruses();
    REQUIRE(records);
    const auto kept = static_cast<int>(records->size());
    CHECK(kept >= confirmed);
    CHECK(kept <= confirmed + 1);
    for (std::size_t i = 0; i < records->size(); i += 5)
      CHECK(store->changes(i)->size() == 40);
  }
}

TEST_CASE("a full disk is said, nothing is lost, and all is written once there is room") {
  if (!keeps_history())
    return;
  const ScratchFolder folder;
  const auto file = folder.path / "player.db";
  const int wrong = in_a_child([&] {
    std::signal(SIGXFSZ, SIG_IGN);
    HistoryKeeper keeper(file, std::chrono::milliseconds(1));
    const std::vector heard{landed_on("A7", "3")};
    for (int i = 0; i < 3; ++i)
      keeper.push(full_chorus(i), heard);
    keeper.settle();
    if (!keeper.notice().empty())
      return 1;
    limit_files(16384);
    for (int i = 3; i < 60; ++i)
      keeper.push(full_chorus(i, 30), heard);
    keeper.settle();
    if (keeper.notice().empty() || keeper.notice().find('\n') != std::string::npos)
      return 2;
    if (keeper.history()->choruses != 60)
      return 3;
    limit_files(RLIM_INFINITY);
    keeper.push(full_chorus(60), heard);
    keeper.settle();
    return keeper.notice().empty() ? 0 : 4;
  });
  CHECK(wrong == 0);
  const auto store = HistoryStore::open(file);
  REQUIRE(store);
  CHECK(store->check() == "");
  CHECK(store->choruses()->size() == 61);
  CHECK(store->fading()->lights().begin()->second == 20);
}

TEST_CASE("a keeper knows what was kept before, and adds what is pushed") {
  if (!keeps_history())
    return;
  const ScratchFolder folder;
  const auto file = folder.path / "player.db";
  const std::vector heard{landed_on("A7", "3")};
  for (int start = 1; start <= 3; ++start) {
    HistoryKeeper keeper(file);
    keeper.push(full_chorus(start), heard);
    keeper.settle();
    CHECK(keeper.history()->choruses == start);
    CHECK(keeper.fading()->lights().begin()->second == start);
    CHECK(keeper.notice() == "");
  }
}

TEST_CASE("a keeper without a file to write keeps it all in mind and says so") {
  const ScratchFolder folder;
  std::ofstream(folder.path / "blocked") << "a file where a folder should be";
  HistoryKeeper keeper(folder.path / "blocked" / "player.db", std::chrono::milliseconds(1));
  keeper.push(full_chorus(0), {});
  keeper.settle();
  CHECK(keeper.history()->choruses == 1);
  CHECK(keeper.notice() != "");
}

/// A history of so many choruses, with `bytes` over its own from `at` on.
void write_spoilt(const std::filesystem::path& file, int choruses, std::streamoff at,
                  const std::string& bytes) {
  {
    auto store = HistoryStore::open(file);
    REQUIRE(store);
    for (int i = 0; i < choruses; ++i)
      REQUIRE(store->add(full_chorus(i)) == "");
  }
  std::fstream spoilt(file, std::ios::binary | std::ios::in | std::ios::out);
  spoilt.seekp(at);
  spoilt << bytes;
}

TEST_CASE("a damaged file is set aside, and a new one begun") {
  if (!keeps_history())
    return;
  const ScratchFolder folder;
  const auto file = folder.path / "player.db";
  const auto read = [](const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
  };
  const std::string text(5000, 'x');
  for (int times = 1; times <= 2; ++times) {
    std::ofstream(file) << text;
    HistoryKeeper keeper(file);
    keeper.push(full_chorus(0), {});
    keeper.settle();
    const auto aside = "player damaged " + std::to_string(times) + ".db";
    CHECK(keeper.notice().find(aside) != std::string::npos);
    CHECK(read(folder.path / aside) == text);
    CHECK(HistoryStore::open(file)->choruses()->size() == 1);
    CHECK_FALSE(HistoryStore::is_damaged(file));
  }
}

TEST_CASE("what was set aside is said also while nothing waits to be written") {
  if (!keeps_history())
    return;
  const ScratchFolder folder;
  std::ofstream(folder.path / "player.db") << std::string(5000, 'x');
  HistoryKeeper keeper(folder.path / "player.db");
  keeper.settle();
  CHECK(keeper.notice().find("a new one begun") != std::string::npos);
}

TEST_CASE("a history with a torn page is set aside whole") {
  if (!keeps_history())
    return;
  const ScratchFolder folder;
  const auto file = folder.path / "player.db";
  write_spoilt(file, 50, 100, std::string(12'000, '\xFF'));
  CHECK(HistoryStore::is_damaged(file));
  HistoryKeeper keeper(file);
  keeper.push(full_chorus(0), {});
  keeper.settle();
  CHECK(keeper.history()->choruses == 1);
  CHECK(std::filesystem::exists(folder.path / "player damaged 1.db"));
}

TEST_CASE("a history of a newer program is neither damaged nor touched") {
  if (!keeps_history())
    return;
  const ScratchFolder folder;
  const auto file = folder.path / "player.db";
  write_spoilt(file, 0, 60, std::string("\0\0\0\x63", 4)); // user_version, see SQLite's file format
  HistoryKeeper keeper(file, std::chrono::milliseconds(1));
  keeper.push(full_chorus(0), {});
  keeper.settle();
  CHECK(keeper.notice().find("newer program") != std::string::npos);
  CHECK_FALSE(HistoryStore::is_damaged(file));
  CHECK_FALSE(std::filesystem::exists(folder.path / "player damaged 1.db"));
}
