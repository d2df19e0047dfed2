#pragma once

#include "app/conductor.hpp"
#include "app/part_routes.hpp"
#include "midi/ports.hpp"

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace landfall::app {

/// Ends a sender that nobody uses any more, or leaves it behind if its output blocks or is `dead`;
/// whether it was left behind. May wait; device worker only.
bool end_sender(std::unique_ptr<midi::Sender> sender, bool dead);

/// The output that a part's wish names, and where it is.
struct PartPort {
  std::unique_ptr<midi::Output> output; ///< Null where it can't be opened.
  midi::PortInfo port;                  ///< Without a name where it is one of our own.
};
using OpenPart = PartPort (*)(const std::string& wish);
/// The system's ports; "virtual" is one of our own. Device worker only.
PartPort open_part(const std::string& wish);

/// The outputs beside the usual one that parts were given. Each that is there is open; what is not
/// there is waited for, while its parts sound with the others. Device worker only.
class ExtraOutputs {
public:
  /// `before_end` is called before a sender is taken away: nobody may play through it any more.
  ExtraOutputs(Conductor& conductor, std::function<void()> before_end,
               OpenPart open_port = open_part)
      : conductor_(conductor), before_end_(std::move(before_end)), open_port_(open_port) {}

  /// Opens and closes what `routes` name among `outputs`. Whether something was left behind.
  bool tend(const VoiceRoutes& routes, const std::vector<midi::PortInfo>& outputs);
  bool close();

  bool uses(std::string_view api) const;
  /// All of `api` went with its sound server.
  void lose(std::string_view api);
  /// System ports that lost their connection, by their names.
  void loosen(const std::vector<std::string>& names);
  /// System ports of `api` that are open.
  std::vector<std::string> ports_of(std::string_view api) const;

  /// As they are named in the routes.
  std::vector<std::string> open() const;
  /// Where a voice sounds; null if with the others.
  midi::Sender* sender_of(Voice voice, const VoiceRoutes& routes) const;
  /// ` · bass, drums out by Deep Sea`; empty without any.
  std::string words(const VoiceRoutes& routes) const;
  /// One line, empty when all is well.
  std::string notice() const;

private:
  struct Extra {
    std::string wish; ///< As named.
    std::string port; ///< The system's; empty for one of our own.
    std::string api;
    midi::Sender* sender = nullptr;
    bool lost = false;
    bool loose = false;
    midi::Latest<midi::Routing>* routing = nullptr; ///< Lasts.
  };

  static bool blocks(const Extra& extra);
  static bool is_gone(const Extra& extra, const std::vector<midi::PortInfo>& outputs);
  void open(const std::string& wish);
  void route(const VoiceRoutes& routes);
  const Extra* find(const std::string& wish) const;

  Conductor& conductor_;
  std::function<void()> before_end_;
  OpenPart open_port_;
  std::vector<Extra> extras_;
  std::string notice_, trouble_;
  TimePoint trouble_until_;
};

} // namespace landfall::app
