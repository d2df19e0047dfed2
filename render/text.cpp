#include "render/text.hpp"

#include "render/style.hpp"

#include <array>

namespace landfall::render {

namespace {

constexpr std::string_view flat = "♭", sharp = "♯", natural = "♮";

bool starts_with_sign(std::string_view text) {
  return text.starts_with(flat) || text.starts_with(sharp) || text.starts_with(natural);
}

/// Bytes of the leading part that is set in one font: one sign, or all up to the next sign.
std::size_t run_length(std::string_view text) {
  if (starts_with_sign(text))
    return flat.size();
  const std::size_t next = std::min({text.find(flat), text.find(sharp), text.find(natural)});
  return std::min(next, text.size());
}

bool is_sign_face(Face face) {
  return face == Face::music || face == Face::music_bold;
}

Face sign_face(Face beside) {
  return beside == Face::semibold || beside == Face::bold ? Face::music_bold : Face::music;
}

/// Start of the last character.
std::size_t last_character(std::string_view text) {
  std::size_t i = text.size() - 1;
  while (i > 0 && (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80U)
    --i;
  return i;
}

} // namespace

template <typename Visit>
void Pen::each_run(const Setting& setting, std::string_view text, Visit visit) const {
  while (!text.empty()) {
    const std::string_view part = text.substr(0, run_length(text));
    text.remove_prefix(part.size());
    if (starts_with_sign(part)) {
      const int size = static_cast<int>(std::lround(setting.size * type::sign));
      const double raise = part == flat ? 0.0 : type::sharp_raise;
      visit(sign_face(setting.face), size, static_cast<int>(std::lround(setting.size * raise)),
            part);
    } else {
      visit(setting.face, setting.size, 0, part);
    }
  }
}

int Pen::width(const Setting& setting, std::string_view text) const {
  if (is_sign_face(setting.face))
    return metrics_.measure(setting.face, setting.size, text).width;
  int sum = 0;
  each_run(setting, text, [&](Face face, int size, int, std::string_view part) {
    sum += metrics_.measure(face, size, part).width;
  });
  return sum;
}

int Pen::cap(const Setting& setting) const {
  return metrics_.measure(setting.face, setting.size, "H").ascent;
}

void Pen::run(Face face, int size, Point at, Color color, std::string_view text) {
  add(Text{face, size, at, metrics_.measure(face, size, text), color, block_, std::string(text)});
}

int Pen::write_on(const Setting& setting, Point at, std::string_view text) {
  int x = at.x;
  // A face of its own for signs is kept as it is: its size and height are already chosen.
  if (is_sign_face(setting.face)) {
    run(setting.face, setting.size, at, setting.color, text);
    return metrics_.measure(setting.face, setting.size, text).width;
  }
  each_run(setting, text, [&](Face face, int size, int raise, std::string_view part) {
    run(face, size, {x, at.y - raise}, setting.color, part);
    x += metrics_.measure(face, size, part).width;
  });
  return x - at.x;
}

int Pen::write(const Setting& setting, Point at, std::string_view text, Align align) {
  if (text.empty())
    return 0;
  next_block();
  const int total = align == Align::left ? 0 : width(setting, text);
  return write_on(setting, {at.x - (align == Align::middle ? total / 2 : total), at.y}, text);
}

int Pen::write_within(const Setting& setting, Point at, std::string_view text, int room,
                      Align align) {
  return write(setting, at, shortened(setting, text, room), align);
}

int Pen::write_centred(const Setting& setting, Point at, std::string_view text, Align align) {
  return write(setting, {at.x, at.y + (cap(setting) + 1) / 2}, text, align);
}

std::string Pen::shortened(const Setting& setting, std::string_view text, int room) const {
  constexpr std::size_t most = 400; // bytes; no window shows more
  if (text.size() <= most && width(setting, text) <= room)
    return std::string(text);
  text = text.substr(0, most);
  while (!text.empty()) {
    text = text.substr(0, last_character(text));
    while (text.ends_with(' '))
      text.remove_suffix(1);
    std::string candidate = std::string(text) + "…";
    if (width(setting, candidate) <= room)
      return candidate;
  }
  return {};
}

std::vector<std::string> wrapped(const Pen& pen, const Setting& setting, std::string_view text,
                                 int room) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const std::size_t space = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, space);
    text.remove_prefix(std::min(space + 1, text.size()));
    const std::string longer = line.empty() ? std::string(word) : line + ' ' + std::string(word);
    if (!line.empty() && pen.width(setting, longer) > room) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
  }
  if (!line.empty())
    lines.push_back(line);
  return lines;
}

} // namespace landfall::render
