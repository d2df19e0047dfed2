#include "app/sheet_figure.hpp"

#include <algorithm>

namespace landfall::app::sheet {
namespace {

constexpr double key_height = 62, black_height = 36, most_key_width = 15.5;
constexpr double frame = 0.6, dark = 0.72, beyond = 0.92;

bool is_white(int pitch) {
  return neck::has(0b101010110101, pitch);
}

/// The keys of a hand, whole white keys at both ends.
class Keys {
public:
  Keys(Pen& pen, const NeckDrawing& drawing) : pen_(pen), drawing_(drawing) {
    const auto& keyboard = *drawing.setting->instrument;
    const auto& hand = drawing.view->hand;
    first_ = std::max(hand.low - keyboard.reach, keyboard.lowest.number);
    last_ = std::min(hand.high + keyboard.reach, keyboard.highest.number);
    first_ -= is_white(first_) ? 0 : 1;
    last_ += is_white(last_) ? 0 : 1;
    key_width_ = std::min(most_key_width, drawing.width / (whites_below(last_) + 1));
  }

  double width() const { return key_width_ * (whites_below(last_) + 1); }
  static double height() { return key_height + 10; }

  void draw() {
    for (int pitch = first_; pitch <= last_; ++pitch)
      if (is_white(pitch))
        draw_white(pitch);
    for (int pitch = first_; pitch <= last_; ++pitch)
      if (!is_white(pitch))
        draw_black(pitch);
    for (const auto& note : drawing_.view->notes)
      draw_note(pen_, note,
                neck::label(note, drawing_.labels, drawing_.setting->key, drawing_.view->hand),
                centre(note.midi.number), is_white(note.midi.number) ? key_height - 11 : 23);
  }

private:
  int whites_below(int pitch) const {
    int count = 0;
    for (int p = first_; p < pitch; ++p)
      count += is_white(p) ? 1 : 0;
    return count;
  }
  double centre(int pitch) const {
    return key_width_ * (whites_below(pitch) + (is_white(pitch) ? 0.5 : 0));
  }
  bool in_hand(int pitch) const {
    return pitch >= drawing_.view->hand.low && pitch <= drawing_.view->hand.high;
  }

  void draw_white(int pitch) {
    const double x = centre(pitch) - key_width_ / 2;
    if (!in_hand(pitch))
      pen_.add(Box{x, 0, key_width_, key_height, beyond});
    for (const double side : {x, x + key_width_})
      pen_.line(side, 0, side, key_height, frame);
    pen_.line(x, 0, x + key_width_, 0, frame);
    pen_.line(x, key_height, x + key_width_, key_height, frame);
    if (pitch % 12 == 0)
      pen_.write({6.5, Face::regular, 0.2}, centre(pitch), height() - 1,
                 ascii(theory::MidiNote{pitch}), Align::middle);
  }

  void draw_black(int pitch) {
    const double half = key_width_ * 0.31;
    pen_.add(Box{centre(pitch) - half, 0, 2 * half, black_height, dark});
  }

  Pen& pen_;
  const NeckDrawing& drawing_;
  int first_ = 0, last_ = 0;
  double key_width_ = 0;
};

} // namespace

Figure keys_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing) {
  Pen pen(metrics);
  Keys keys(pen, drawing);
  keys.draw();
  return {pen.take(), keys.width(), Keys::height()};
}

} // namespace landfall::app::sheet
