#include "viz/app/player.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/fault.hpp"
#include "viz/app/film.hpp"

namespace leewheel {

const char* key_name(sf::Keyboard::Key key) {
  switch (key) {
    case sf::Keyboard::Left: return "Left";
    case sf::Keyboard::Right: return "Right";
    case sf::Keyboard::Up: return "Up";
    case sf::Keyboard::Down: return "Down";
    case sf::Keyboard::Home: return "Home";
    case sf::Keyboard::End: return "End";
    case sf::Keyboard::F1: return "F1";
    case sf::Keyboard::F11: return "F11";
    case sf::Keyboard::Escape: return "Escape";
    default: return "";
  }
}

Player::Player(view::Replay& replay, view::Replay* ghost, view::Controls controls, float scale)
    : replay_(&replay), ghost_(ghost), controls_(controls), screen_(scale), view_(view::view_at(replay, controls.time_s)) {}

void Player::draw(sf::RenderTarget& target, bool whole_wake) {
  view_ = view::view_at(*replay_, controls_.time_s);
  draw::Scene scene{view_, *replay_, controls_, {}};
  if (!ghost_) return screen_.draw(target, scene, whole_wake);
  const std::uint32_t rider = controls_.chosen;
  if (gained_by_ != rider) gained_ = view::gained_along(*replay_, *ghost_, rider), gained_by_ = rider;
  const view::View now = view::view_at(*ghost_, view_.time_s),
                   other = view::ghost_at(*ghost_, view_, view_.riders[rider].name, controls_.ghost_by);
  scene.ghost.emplace(draw::GhostScene{other, now, view::ghost_name(*replay_, *ghost_),
                                       view::difference(*replay_, *ghost_, view_.time_s, rider), gained_});
  screen_.draw(target, scene, whole_wake);
}

void Player::type(char32_t character) {
  if (character >= U'A' && character <= U'Z') character += U'a' - U'A';
  for (const view::KeyHint& hint : view::key_hints())
    if (hint.character != 0 && hint.character == character) return press(hint.command);
}

void Player::press_key(sf::Keyboard::Key key) {
  const std::string_view name = key_name(key);
  for (const view::KeyHint& hint : view::key_hints())
    if (hint.character == 0 && name == hint.key) return press(hint.command);
}

void Player::press_mouse(float x, float y) {
  if (controls_.help) {
    controls_.help = false;
  } else if (screen_.on_mark(x, y)) {
    go_to(x, y);
  } else if (const auto time_s = screen_.time_at(x, y, false, *replay_)) {
    drag_ = Drag::time, controls_.time_s = *time_s;
  } else if (const auto divider = view::divider_at(screen_.layout(), x, y)) {
    drag_ = Drag::divider, divider_ = *divider;
  } else if (const auto column = screen_.column_at(x, y)) {
    view::sort_by(controls_, *column);
  } else if (const auto rider = screen_.rider_at(x, y)) {
    view::choose_rider(controls_, *rider);
    controls_.follow = view::Follow::group;
  } else if (screen_.layout().panels[view::riders_panel].contains(x, y)) {
    drag_ = Drag::riders;
  } else {
    go_to(x, y);
  }
}

void Player::move_mouse(float x, float y) {
  view::Camera& camera = controls_.camera;
  const double px_per_m = camera.px_per_m > 0 ? camera.px_per_m : camera.fitted_px_per_m;
  switch (drag_) {
    case Drag::none: break;
    case Drag::time: controls_.time_s = *screen_.time_at(x, y, true, *replay_); break;
    case Drag::divider: view::drag_divider(screen_.layout(), divider_, x, y, controls_.splits); break;
    case Drag::riders:
      camera.along_m -= (x - mouse_x_) / px_per_m;
      camera.across_m += (y - mouse_y_) / px_per_m;
      break;
  }
  mouse_x_ = x, mouse_y_ = y;
}

void Player::go_to(float x, float y) {
  const auto pointed = screen_.pointed_at(x, y, draw::Scene{view_, *replay_, controls_, {}});
  if (pointed && pointed->time_s) controls_.time_s = *pointed->time_s;
}

void Player::turn_wheel(float x, float y, float turns) {
  if (screen_.layout().panels[view::riders_panel].contains(x, y))
    press(turns > 0 ? view::Command::zoom_in : view::Command::zoom_out);
  if (screen_.layout().panels[view::tally_panel].contains(x, y))
    controls_.scroll_rows -= static_cast<int>(std::lround(3 * turns));
}

void Player::handle(const sf::Event& event) {
  switch (event.type) {
    case sf::Event::Closed: controls_.quit = true; break;
    case sf::Event::TextEntered: type(event.text.unicode); break;
    case sf::Event::KeyPressed: press_key(event.key.code); break;
    case sf::Event::MouseButtonPressed:
      mouse_x_ = static_cast<float>(event.mouseButton.x), mouse_y_ = static_cast<float>(event.mouseButton.y);
      if (event.mouseButton.button == sf::Mouse::Left) press_mouse(mouse_x_, mouse_y_);
      break;
    case sf::Event::MouseButtonReleased: drag_ = Drag::none; break;
    case sf::Event::MouseLeft: controls_.pointer.inside = false; break;
    case sf::Event::MouseMoved:
      controls_.pointer = {static_cast<float>(event.mouseMove.x), static_cast<float>(event.mouseMove.y), true};
      move_mouse(static_cast<float>(event.mouseMove.x), static_cast<float>(event.mouseMove.y));
      break;
    case sf::Event::MouseWheelScrolled:
      turn_wheel(static_cast<float>(event.mouseWheelScroll.x), static_cast<float>(event.mouseWheelScroll.y),
                 event.mouseWheelScroll.delta);
      break;
    default: break;
  }
}

}  // namespace leewheel
