#include "app/data.hpp"
#include "app/pack.hpp"
#include "app/run_command.hpp"
#include "midi/smf.hpp"
#include "midi/synth.hpp"
#include "render/fonts.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <set>

using namespace landfall;
using landfall::test::run;
using landfall::test::ScratchFolder;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// All files below a folder, with `/`.
std::set<std::string> files_below(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file())
      names.insert(entry.path().lexically_relative(folder).string());
  return names;
}

landfall::test::Ran pack(app::Arguments arguments, const fs::path& output) {
  arguments.insert(arguments.begin(), "pack");
  arguments.insert(arguments.end(), {"-o", output.string()});
  return run(arguments);
}

std::set<std::string> links_in(const std::string& page) {
  std::set<std::string> links;
  const std::string mark = "href=\"";
  for (auto at = page.find(mark); at != std::string::npos; at = page.find(mark, at)) {
    at += mark.size();
    links.insert(page.substr(at, page.find('"', at) - at));
  }
  return links;
}

midi::smf::File midi_file(const fs::path& path) {
  const auto bytes = bytes_of(path);
  auto file = midi::smf::read({reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()});
  REQUIRE(file);
  return *file;
}

/// Of 16-bit stereo: frames, and the loudest second's root mean square of full scale.
struct Sound {
  std::uint32_t rate = 0;
  std::size_t frames = 0;
  double loudness = 0;
};

Sound sound_of(const fs::path& path) {
  const auto bytes = bytes_of(path);
  REQUIRE(bytes.size() > 44);
  REQUIRE(bytes.starts_with("RIFF"));
  Sound sound;
  std::memcpy(&sound.rate, bytes.data() + 24, 4);
  sound.frames = (bytes.size() - 44) / 4;
  double squares = 0;
  for (std::size_t i = 0; i < sound.frames; ++i) {
    std::int16_t left = 0;
    std::memcpy(&left, bytes.data() + 44 + i * 4, 2);
    squares += left * left / 1073741824.0;
  }
  sound.loudness = std::sqrt(squares / static_cast<double>(sound.frames));
  return sound;
}

} // namespace

TEST_CASE("a song's pack has loops at three tempi, phrases, and a page that links every file") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "home";
  const auto ran = pack({"A7 | D7 | A7 | E7", "--tempo", "100", "--no-sound"}, folder);
  CHECK(ran.exit == 0);
  CHECK(ran.out == folder.string() + "/index.html\n");
  auto files = files_below(folder);
  for (const char* bpm : {"70", "85", "100"}) {
    const auto name = "loops/a7-d7-a7-e7-in-a-" + std::string(bpm) + "-bpm.mid";
    CAPTURE(name);
    REQUIRE(files.contains(name));
    const auto file = midi_file(folder / name);
    CHECK(file.tracks[0].end == quarter * 16);
    const auto& events = file.tracks[0].events;
    const auto tempo = std::ranges::find_if(
        events, [](const auto& event) { return std::holds_alternative<Tempo>(event.content); });
    REQUIRE(tempo != events.end());
    CHECK(std::lround(landfall::bpm(std::get<Tempo>(tempo->content))) == std::atoi(bpm));
  }
  CHECK(files.contains("phrases/kettle-lid-in-a.mid"));
  CHECK(files.contains("phrases/kettle-lid-in-a.phrase"));
  const auto page = bytes_of(folder / "index.html");
  CHECK(page.find("licensed therapist") != std::string::npos);
  CHECK(files.erase("index.html") == 1);
  CHECK(links_in(page) == files);
#ifdef LANDFALL_CAIRO
  CHECK(bytes_of(folder / "a7-d7-a7-e7.pdf").starts_with("%PDF"));
  CHECK(bytes_of(folder / "phrases/kettle-lid-in-a.pdf").starts_with("%PDF"));
#endif
  app::Arguments check{"check"};
  for (const auto& name : files)
    if (name.ends_with(".phrase"))
      check.push_back((folder / name).string());
  REQUIRE(check.size() >= 2);
  const auto checked = run(check);
  CHECK(checked.exit == 0);
  CHECK(checked.err == "");
}

TEST_CASE("sound is as long as its bars at its tempo, and is heard") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "home";
  const auto ran = pack({"A7 | D7 | A7 | E7", "--tempo", "150", "--tempi", "50,100"}, folder);
  if (!midi::has_synth() || ran.err.find("sound font") != std::string::npos) {
    MESSAGE("no synth or no sound font: loops are not listened to");
    return;
  }
  CHECK(ran.exit == 0);
  std::size_t heard = 0;
  for (const auto& name : files_below(folder))
    if (name.ends_with(".wav")) {
      const double bpm = name.find("-75-bpm") != std::string::npos ? 75 : 150;
      const auto sound = sound_of(folder / name);
      CAPTURE(name);
      const auto expected = 16 * 60.0 / bpm * sound.rate;
      CHECK(std::abs(static_cast<double>(sound.frames) - expected) <= 1);
      CHECK(sound.loudness > 0.01);
      CHECK(sound.loudness < 0.5);
      ++heard;
    }
  CHECK(heard == 2);
}

TEST_CASE("a lesson's pack has a loop for each different scene, in its key and bars") {
  const ScratchFolder scratch;
  const auto path = scratch.path / "two.lesson";
  std::ofstream(path) << "title: Two\n\nscene: One\nsong: A7 | D7\nkey: Eb\ntempo: 80\nloop: 2-2\n"
                         "\nscene: Same\nsay: again\n\nscene: Whole\nloop: none\n";
  const auto folder = scratch.path / "home";
  const auto ran = pack({path.string(), "--no-sound", "--tempi", "100"}, folder);
  CAPTURE(ran.err);
  CHECK(ran.exit == 0);
  std::set<std::string> loops;
  for (const auto& name : files_below(folder))
    if (name.starts_with("loops/"))
      loops.insert(name);
  CHECK(loops == std::set<std::string>{"loops/a7-d7-in-e-flat-80-bpm.mid",
                                       "loops/a7-d7-in-e-flat-bars-2-to-2-80-bpm.mid"});
  CHECK(midi_file(folder / "loops/a7-d7-in-e-flat-bars-2-to-2-80-bpm.mid").tracks[0].end ==
        quarter * 4);
  CHECK(pack({path.string(), "--key", "A"}, scratch.path / "no").exit == 2);
}

TEST_CASE("a keyboard's pack has its phrases without tablature") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "home";
  const auto ran = pack({"A7 | D7 | A7 | E7", "--no-sound", "--instrument", "keyboard"}, folder);
  CAPTURE(ran.err);
  CHECK(ran.exit == 0);
  const auto files = files_below(folder);
  CHECK(files.contains("phrases/kettle-lid-in-a.mid"));
  CHECK(!files.contains("phrases/kettle-lid-in-a.pdf"));
}

TEST_CASE("nothing is written over without --force, and with it what is not ours stays") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "home";
  fs::create_directories(folder);
  CHECK(pack({"A | D", "--no-sound"}, folder).exit == 0); // an empty folder may be there
  const auto before = files_below(folder);
  std::ofstream(folder / "mine.txt") << "mine";
  std::ofstream(folder / "index.html") << "old";
  const auto ran = pack({"A | D", "--no-sound"}, folder);
  CHECK(ran.exit == 1);
  CHECK(ran.err == "landfall: " + folder.string() + ": is there already; --force writes over it\n");
  CHECK(bytes_of(folder / "index.html") == "old");
  CHECK(pack({"A | D", "--no-sound", "--force"}, folder).exit == 0);
  CHECK(bytes_of(folder / "mine.txt") == "mine");
  CHECK(bytes_of(folder / "index.html") != "old");
  auto after = files_below(folder);
  after.erase("mine.txt");
  CHECK(after == before);
  CHECK(files_below(scratch.path).size() == before.size() + 1);
}

TEST_CASE("what fails or is stopped in the middle leaves nothing") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "home";
  const auto fonts = render::Fonts::open(app::fonts_folder().string());
  REQUIRE(fonts);
  std::istringstream nothing;
  const auto song = app::load_song("slipway-at-six", nothing);
  REQUIRE(song);
  std::vector<std::string> problems;
  app::PackWishes wishes;
  wishes.percents = {70, 85, 100};
  wishes.sound = false;
  wishes.feels = app::FeelFolder::load(problems);
  wishes.handout.instrument = neck::standard_guitar();
  int left = 2;
  wishes.stopped = [&] { return left-- == 0; };
  {
    app::PackFiles files(folder);
    app::Packer packer(files, wishes, "x", "");
    packer.add_loops(app::ground_of(*song, {}));
    packer.add_index();
    CHECK(files_below(scratch.path).size() == 2);
    CHECK(packer.error() == "stopped before it was done; nothing is written");
  }
  CHECK(fs::is_empty(scratch.path));

  std::ofstream(scratch.path / "file") << "no folder";
  const auto ran = pack({"A | D", "--no-sound"}, scratch.path / "file" / "home");
  CHECK(ran.exit == 1);
  CHECK(landfall::test::count_lines(ran.err) == 1);
  CHECK(files_below(scratch.path) == std::set<std::string>{"file"});
}

TEST_CASE("a zip file is whole for other readers, and opens into one folder") {
  const ScratchFolder scratch;
  const auto zip = scratch.path / "home.zip";
  const auto ran = pack({"A | D", "--no-sound"}, zip);
  if (!app::has_libzip()) {
    CHECK(ran.exit == 1);
    CHECK(ran.err == "landfall: " + std::string(app::no_libzip) + "\n");
    return;
  }
  CHECK(ran.exit == 0);
  CHECK(files_below(scratch.path) == std::set<std::string>{"home.zip"});
  CHECK(pack({"A | D", "--no-sound"}, zip).exit == 1);
  const auto shell = [&](const std::string& command) {
    return std::system(
        ("cd '" + scratch.path.string() + "' && " + command + " >out.txt 2>&1").c_str());
  };
  if (shell("command -v unzip") == 0) {
    CHECK(shell("unzip -t home.zip") == 0);
    CHECK(shell("unzip -q home.zip -d opened") == 0);
    CHECK(pack({"A | D", "--no-sound"}, scratch.path / "folder").exit == 0);
    CHECK(files_below(scratch.path / "opened/home") == files_below(scratch.path / "folder"));
  }
  if (shell("command -v python3") == 0)
    CHECK(shell("python3 -c 'import zipfile; assert zipfile.ZipFile(\"home.zip\").testzip() is "
                "None'") == 0);
}

TEST_CASE("a wrong command line is one line and exit 2, a missing song exit 1") {
  const ScratchFolder scratch;
  for (const auto& wrong : std::vector<app::Arguments>{{"A | D", "--tempi", "70,x"},
                                                       {"A | D", "--tempi", "1,2,3,4,5,6,7,8,9"},
                                                       {"A | D", "--tempi", "0"},
                                                       {"A | D", "--choruses", "0"},
                                                       {"A | D", "--paper", "A3"},
                                                       {"A | D", "--feel", "wobble"}}) {
    const auto ran = pack(wrong, scratch.path / "home");
    CAPTURE(ran.err);
    CHECK(ran.exit == 2);
    CHECK(landfall::test::count_lines(ran.err) == 1);
  }
  CHECK(pack({"no-such-song"}, scratch.path / "home").exit == 1);
  CHECK(fs::is_empty(scratch.path));
}
