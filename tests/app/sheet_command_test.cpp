#include "app/own_data.hpp"
#include "app/run_command.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <optional>

using landfall::test::run;
using landfall::test::ScratchFolder;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

landfall::test::Ran sheet(std::vector<std::string> arguments, const std::filesystem::path& file) {
  arguments.insert(arguments.begin(), "sheet");
  arguments.insert(arguments.end(), {"-o", file.string()});
  return run(arguments);
}

#ifdef LANDFALL_CAIRO

/// What a reader of the PDF can copy out of it; none without pdftotext.
std::optional<std::string> text_of(const std::filesystem::path& pdf) {
  const auto command = "pdftotext -raw '" + pdf.string() + "' - 2>/dev/null";
  if (std::system("pdftotext -v >/dev/null 2>&1") != 0)
    return std::nullopt;
  std::string text;
  FILE* pipe = ::popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::array<char, 4096> block{};
  while (const auto count = std::fread(block.data(), 1, block.size(), pipe))
    text.append(block.data(), count);
  CHECK(::pclose(pipe) == 0);
  return text;
}

std::string extracted(const std::vector<std::string>& arguments) {
  const ScratchFolder scratch;
  const auto ran = sheet(arguments, scratch.path / "s.pdf");
  CAPTURE(ran.err);
  CHECK(ran.exit == 0);
  CHECK(bytes_of(scratch.path / "s.pdf").starts_with("%PDF"));
  const auto text = text_of(scratch.path / "s.pdf");
  if (!text)
    MESSAGE("pdftotext is not installed: the text of PDFs is not looked at");
  return text.value_or("");
}

#endif

} // namespace

#ifdef LANDFALL_CAIRO

TEST_CASE("the text of a PDF is text: title, key, chords, degrees, names with their signs") {
  const auto degrees = extracted({"rope-and-paraffin", "--key", "Eb", "--shape", "C"});
  if (degrees.empty())
    return;
  for (const char* part :
       {"Rope and Paraffin", "Key of E♭", "C shape", "E♭7", "♭7", "12", "Fm7", "all chord tones",
        "landing notes", "E♭ G B♭ D♭", "page 1 of 2", "licensed therapist"}) {
    CAPTURE(part);
    CHECK(has(degrees, part));
  }
  const auto names = extracted({"A | F#m7b5", "--labels", "note"});
  CHECK(has(names, "C♯"));
  CHECK(has(names, "F♯ø"));
}

TEST_CASE("a lesson and a phrase are found by name") {
  const auto lesson = extracted({"one-hand-five-chords"});
  if (lesson.empty())
    return;
  CHECK(has(lesson, "One finger a fret, from 4 to 7. Leave them there."));
  CHECK(!has(lesson, "Wait until everyone"));
  const auto phrase = extracted({"wet-rope", "--position", "7"});
  CHECK(has(phrase, "Wet Rope"));
  CHECK(has(phrase, "full"));
  CHECK(has(phrase, "10"));
  CHECK(has(phrase, "♭3"));
}

TEST_CASE("a lesson of one's own is found by name, before a shipped one") {
  const ScratchFolder scratch;
  const landfall::test::OwnData own(scratch.path);
  const auto folder = scratch.path / "landfall" / "lessons";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "one-hand-five-chords.lesson")
      << "title: Mine\nscene: one\nsay: Only this line.\nsong: A | D\n";
  const auto lesson = extracted({"one-hand-five-chords"});
  if (!lesson.empty())
    CHECK(has(lesson, "Only this line."));
}

TEST_CASE("an SVG has a file for each page, said in one line") {
  const ScratchFolder scratch;
  const auto ran = sheet({"slipway-at-six"}, scratch.path / "s.svg");
  CHECK(ran.exit == 0);
  CHECK(has(ran.out, "2 pages: "));
  CHECK(landfall::test::count_lines(ran.out) == 1);
  CHECK(has(bytes_of(scratch.path / "s.svg"), "<svg"));
  CHECK(has(bytes_of(scratch.path / "s-2.svg"), "<svg"));
  CHECK(!std::filesystem::exists(scratch.path / "s-3.svg"));
  const auto one = sheet({"wet-rope"}, scratch.path / "w.svg");
  CHECK(one.exit == 0);
  CHECK(one.out.empty());
}

TEST_CASE("what cannot be written is one line") {
  const ScratchFolder scratch;
  std::ofstream(scratch.path / "file") << "no folder";
  const auto ran = sheet({"A | D"}, scratch.path / "file" / "s.pdf");
  CHECK(ran.exit == 1);
  CHECK(landfall::test::count_lines(ran.err) == 1);
}

#else

TEST_CASE("without cairo the command says so in one line") {
  const ScratchFolder scratch;
  const auto ran = sheet({"A | D"}, scratch.path / "s.pdf");
  CHECK(ran.exit == 1);
  CHECK(has(ran.err, "built without cairo"));
  CHECK(landfall::test::count_lines(ran.err) == 1);
}

#endif

TEST_CASE("a wrong command line is one line and exit 2") {
  const ScratchFolder scratch;
  const auto pdf = scratch.path / "s.pdf";
  const auto usage = [&](std::vector<std::string> arguments) {
    const auto ran = sheet(std::move(arguments), pdf);
    CAPTURE(ran.err);
    CHECK(ran.exit == 2);
    CHECK(landfall::test::count_lines(ran.err) == 1);
    return ran.err;
  };
  CHECK(has(usage({"A | D", "--paper", "A3"}), "--paper"));
  CHECK(has(usage({"A | D", "--diagrams", "grip,x"}), "--diagrams"));
  CHECK(has(usage({"A | D", "--labels", "colour"}), "--labels"));
  CHECK(has(usage({"one-hand-five-chords", "--key", "A"}), "--key"));
  CHECK(has(usage({"wet-rope", "--diagrams", "grip"}), "--diagrams"));
  CHECK(has(usage({"wet-rope", "--instrument", "keyboard"}), "tablature"));
  const auto ran = sheet({"A | D"}, scratch.path / "s.docx");
  CHECK(ran.exit == 2);
  CHECK(has(ran.err, ".pdf or .svg"));
}

TEST_CASE("a song that is not there is one line and exit 1") {
  const ScratchFolder scratch;
  const auto ran = sheet({"no-such-song"}, scratch.path / "s.pdf");
  CHECK(ran.exit == 1);
  CHECK(landfall::test::count_lines(ran.err) == 1);
}
