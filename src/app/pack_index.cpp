#include "app/pack_index.hpp"

#include <cmath>
#include <sstream>

namespace landfall::app {
namespace {

std::string safe(const std::string& text) {
  std::string html;
  for (const char c : text)
    if (c == '&')
      html += "&amp;";
    else if (c == '<')
      html += "&lt;";
    else if (c == '>')
      html += "&gt;";
    else if (c == '"')
      html += "&quot;";
    else
      html += c;
  return html;
}

std::string link(const std::string& file, const std::string& words) {
  return file.empty() ? "" : "<a href=\"" + safe(file) + "\">" + safe(words) + "</a>";
}

constexpr const char* style = R"(<style>
body { font: 17px/1.5 sans-serif; max-width: 42em; margin: 2em auto; padding: 0 1em; color: #1B1E22; background: #F6F2EA }
a { color: #12566E } td, th { text-align: left; padding: 0.1em 1.2em 0.1em 0 } h2 { margin-top: 1.6em }
</style>
)";

constexpr const char* cautions =
    "<h2>Hands and ears</h2>\n<p>Warm up first. Rest your hands before they tire, and stop when it "
    "hurts. Keep the volume down, headphones most of all. Pain or numbness that lasts, or ringing "
    "ears, is for a doctor or a licensed therapist, not for more practice.</p>\n";

void write_loops(std::ostream& out, const std::vector<PackLoop>& loops) {
  out << "<h2>To play over</h2>\n<p>Set your player to repeat one file: each ends where it begins. "
         "Begin with the slowest. Go on to the next when you have arrived where you meant to three "
         "times running, and go back as soon as you have to hurry.</p>\n";
  std::string what;
  for (const auto& loop : loops) {
    if (loop.what != what)
      out << (what.empty() ? "" : "</table>\n") << "<h3>" << safe(loop.what)
          << "</h3>\n<table>\n<tr><th>beats a minute</th><th>of its tempo</th><th>length</th>"
             "<th>files</th></tr>\n";
    what = loop.what;
    out << "<tr><td>" << loop.beats_per_minute << "</td><td>" << loop.percent << " %</td><td>"
        << minutes_text(loop.seconds) << "</td><td>" << link(loop.wav, "sound")
        << (loop.wav.empty() ? "" : ", ") << link(loop.midi, "MIDI") << "</td></tr>\n";
  }
  out << "</table>\n";
}

void write_phrases(std::ostream& out, const std::vector<PackPhrase>& phrases) {
  out << "<h2>Phrases that fit</h2>\n<p>Sing one before you play it. Play it where it belongs, "
         "then "
         "answer it with one of your own that begins like it and ends elsewhere.</p>\n<ul>\n";
  for (const auto& phrase : phrases) {
    out << "<li><b>" << safe(phrase.name) << "</b>"
        << (phrase.about.empty() ? "" : ": " + safe(phrase.about)) << ".<br>" << safe(phrase.where)
        << ".<br>";
    const char* between = "";
    for (const auto& [kind, file] : phrase.files)
      out << between << link(file, kind), between = ", ";
    out << "</li>\n";
  }
  out << "</ul>\n";
}

} // namespace

std::string minutes_text(double seconds) {
  const long whole = std::lround(seconds);
  return std::to_string(whole / 60) + ":" + (whole % 60 < 10 ? "0" : "") +
         std::to_string(whole % 60);
}

std::string index_page(const PackContents& contents) {
  std::ostringstream out;
  out << "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width\">\n<title>"
      << safe(contents.title) << "</title>\n"
      << style << "</head>\n<body>\n<h1>" << safe(contents.title) << "</h1>\n";
  if (!contents.about.empty())
    out << "<p>" << safe(contents.about) << "</p>\n";
  if (!contents.sheet.empty())
    out << "<h2>To read</h2>\n<p>" << link(contents.sheet, "The sheet")
        << ": print it, and put it beside your instrument.</p>\n";
  if (!contents.loops.empty())
    write_loops(out, contents.loops);
  if (!contents.phrases.empty())
    write_phrases(out, contents.phrases);
  out << cautions << "</body>\n</html>\n";
  return out.str();
}

} // namespace landfall::app
