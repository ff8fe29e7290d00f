/// A player in a window, on pictures and films without one, and under every key.

#include <fmt/format.h>

#include "io/fault.hpp"
#include "viz/app/film.hpp"
#include "viz/app/player.hpp"

namespace leewheel {
namespace {

/// A surface to draw on without a window.
class Paper {
 public:
  explicit Paper(sf::Vector2u size) {
    if (!texture_.create(size.x, size.y))
      throw InputFault(
          Fault{"--size", 0, 0, "", fmt::format("found {}x{}, larger than the display can draw", size.x, size.y)});
  }
  sf::Image picture(Player& player, double time_s) {
    player.controls().time_s = time_s;
    player.draw(texture_, true);
    texture_.display();
    return texture_.getTexture().copyToImage();
  }

 private:
  sf::RenderTexture texture_;
};

}  // namespace

sf::Vector2u play(Player& player, sf::Vector2u size, const std::string& title) {
  sf::RenderWindow window;
  bool full = false;
  const auto open = [&] {
    full = player.controls().full_screen;
    window.create(full ? sf::VideoMode::getDesktopMode() : sf::VideoMode(size.x, size.y),
                  sf::String::fromUtf8(title.begin(), title.end()), full ? sf::Style::Fullscreen : sf::Style::Default);
    window.setFramerateLimit(60);
  };
  open();
  sf::Clock wall;
  int settling = 2;  // pictures still to draw once nothing moves
  while (!player.controls().quit) {
    sf::Event event;
    while (window.pollEvent(event)) player.handle(event), settling = 2;
    const double passed_s = wall.restart().asSeconds();
    player.advance(passed_s);
    if (player.controls().playing) settling = 2;
    if (!full) size = window.getSize();
    if (full != player.controls().full_screen) open(), settling = 2;
    if (settling-- > 0)
      player.draw(window, !player.controls().playing), window.display();
    else
      sf::sleep(sf::milliseconds(15)), settling = 0;
  }
  return size;
}

void save_picture(Player& player, sf::Vector2u size, double time_s, const std::string& path) {
  write_picture(Paper(size).picture(player, time_s), path);
}

std::size_t save_film(Player& player, sf::Vector2u size, double from_s, double to_s, const std::string& target) {
  const auto film = open_film(target, size.x, size.y);
  const double speed = view::play_speeds[static_cast<std::size_t>(player.controls().play_speed)];
  const std::vector<double> times_s = view::film_times(player.story(), from_s, to_s, speed, film_pictures_per_s);
  player.controls().playing = player.controls().filming = true;
  player.controls().film_from_s = from_s, player.controls().film_to_s = to_s;
  Paper paper(size);
  for (const double time_s : times_s) film->add(paper.picture(player, time_s));
  film->finish();
  return times_s.size();
}

namespace {

sf::Event key_event(const view::KeyHint& hint) {
  sf::Event event{};
  if (hint.character != 0) {
    event.type = sf::Event::TextEntered, event.text.unicode = hint.character;
    return event;
  }
  event.type = sf::Event::KeyPressed, event.key.code = sf::Keyboard::Unknown;
  for (int key = 0; key < sf::Keyboard::KeyCount; ++key)
    if (std::string_view(key_name(static_cast<sf::Keyboard::Key>(key))) == hint.key)
      event.key.code = static_cast<sf::Keyboard::Key>(key);
  return event;
}

/// Press, drag a little, let go, and turn the wheel there.
std::vector<sf::Event> mouse_events(int x, int y) {
  std::vector<sf::Event> events(5);
  events[0].type = sf::Event::MouseMoved, events[0].mouseMove = {x, y};
  events[1].type = sf::Event::MouseButtonPressed, events[1].mouseButton = {sf::Mouse::Left, x, y};
  events[2].type = sf::Event::MouseMoved, events[2].mouseMove = {x + 9, y + 5};
  events[3].type = sf::Event::MouseButtonReleased, events[3].mouseButton = {sf::Mouse::Left, x + 9, y + 5};
  events[4].type = sf::Event::MouseWheelScrolled,
  events[4].mouseWheelScroll = {sf::Mouse::VerticalWheel, (x + y) % 2 ? 1.0f : -1.0f, x, y};
  return events;
}

}  // namespace

std::size_t press_everything(Player& player, sf::Vector2u size) {
  sf::RenderWindow window(sf::VideoMode(size.x, size.y), "leewheel-view");
  std::size_t pressed = 0;
  const auto send = [&](const sf::Event& event) {
    player.handle(event);
    player.advance(0.1);
    player.draw(window, false);
    window.display();
    ++pressed;
  };
  const auto keys = [&] {
    for (const view::KeyHint& hint : view::key_hints()) send(key_event(hint));
  };
  keys();
  keys();  // the second round undoes what the first one hid
  for (int y = 5; y < static_cast<int>(size.y); y += 140)
    for (int x = 5; x < static_cast<int>(size.x); x += 210)
      for (const sf::Event& event : mouse_events(x, y)) send(event);
  for (const sf::Vector2u shape : {sf::Vector2u{1, 1}, {40, 30}, {320, 900}, {1900, 60}, {640, 480}, {1900, 1060}, size}) {
    window.setSize(shape);
    sf::Event resized{};
    resized.type = sf::Event::Resized, resized.size = {shape.x, shape.y};
    send(resized);
    for (sf::Event event; window.pollEvent(event);) player.handle(event);  // the server's own
    for (const sf::Event& event : mouse_events(static_cast<int>(shape.x) / 2, static_cast<int>(shape.y) / 2)) send(event);
  }
  return pressed;
}

}  // namespace leewheel
