#pragma once

#include "app/data.hpp"
#include "app/song_file.hpp"

namespace landfall::app {

/// A song played to its end for a file: every chorus planned, with the count-in if there is one.
class Rendition {
public:
  /// `setup` has a number of choruses above 0. `parts` are those that are heard; the count-in's
  /// click is one.
  Rendition(practice::Session::Setup setup, std::vector<band::Part> parts);
  Rendition(const Rendition&) = delete;
  Rendition& operator=(const Rendition&) = delete;

  /// The bytes of a standard MIDI file.
  std::string midi() const;
  /// The bytes of a WAV file, or one line why there are none: no synth, no sound font.
  FileText wav() const;
  Nanoseconds length() const;

private:
  std::shared_ptr<const band::FeelBook> feels_;
  practice::Session session_;
  std::vector<practice::Plan> plans_;
  Recorded recorded_;
};

} // namespace landfall::app
