// Runs a fuzz entry over files, and over damaged copies of them, without a fuzzing engine.

#include <algorithm>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using Bytes = std::vector<std::uint8_t>;
namespace fs = std::filesystem;

constexpr std::size_t prefixes = 64;
constexpr int damaged_copies = 100;
constexpr std::size_t longest_damaged = 1U << 16U;

std::string current = "noise"; // What is being run, for the report of a crash.

extern "C" void report_crash(int signal) {
  std::fprintf(stderr, "stopped by signal %d while running: %s\n", signal, current.c_str());
  std::_Exit(1);
}

void run(const Bytes& bytes) {
  LLVMFuzzerTestOneInput(bytes.data(), bytes.size());
}

Bytes read(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::vector<fs::path> files_under(const fs::path& path) {
  if (!fs::is_directory(path))
    return {path};
  std::vector<fs::path> found;
  for (const auto& entry : fs::recursive_directory_iterator(path))
    if (entry.is_regular_file())
      found.push_back(entry.path());
  std::sort(found.begin(), found.end());
  return found;
}

void run_prefixes(const Bytes& whole) {
  const std::size_t step = std::max<std::size_t>(1, whole.size() / prefixes);
  for (std::size_t length = 0; length < whole.size(); length += step)
    run(Bytes(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(length)));
}

std::size_t below(std::mt19937& random, std::size_t bound) {
  return random() % bound;
}

// A few bytes changed, doubled or cut out.
void damage(Bytes& bytes, std::mt19937& random) {
  for (std::size_t edits = 1 + below(random, 4); edits > 0 && !bytes.empty(); --edits) {
    const auto from = bytes.begin() + static_cast<std::ptrdiff_t>(below(random, bytes.size()));
    const auto rest = static_cast<std::size_t>(bytes.end() - from);
    const auto to =
        from + static_cast<std::ptrdiff_t>(1 + below(random, std::min<std::size_t>(rest, 8)));
    switch (below(random, 3)) {
    case 0:
      *from = static_cast<std::uint8_t>(random());
      break;
    case 1: {
      const Bytes piece(from, to);
      bytes.insert(to, piece.begin(), piece.end());
      break;
    }
    default:
      bytes.erase(from, to);
    }
  }
}

void run_file(const fs::path& path, std::mt19937& random) {
  current = path.string();
  const Bytes whole = read(path);
  run(whole);
  if (whole.size() > longest_damaged)
    return;
  run_prefixes(whole);
  for (int copy = 0; copy < damaged_copies; ++copy) {
    Bytes damaged = whole;
    damage(damaged, random);
    run(damaged);
  }
}

void run_noise(std::mt19937& random) {
  run({});
  for (std::size_t size = 1; size <= 4096; size *= 2) {
    Bytes noise(size);
    std::generate(noise.begin(), noise.end(), [&] { return static_cast<std::uint8_t>(random()); });
    run(noise);
  }
}

} // namespace

int main(int count, char** arguments) {
  for (const int signal : {SIGABRT, SIGSEGV, SIGFPE, SIGILL})
    std::signal(signal, report_crash);
  std::mt19937 random(960);
  run_noise(random);
  std::size_t files = 0;
  for (int i = 1; i < count; ++i) {
    if (!fs::exists(arguments[i])) {
      std::fprintf(stderr, "no such seed: %s\n", arguments[i]);
      return 1;
    }
    for (const fs::path& path : files_under(arguments[i])) {
      run_file(path, random);
      ++files;
    }
  }
  std::printf("%zu files replayed\n", files);
  return 0;
}
