#pragma once
/// The window: keys and mouse in, pictures out. And pictures without a person.

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "viz/draw/screen.hpp"

namespace leewheel {

/// A ride, an optional second one, and what is chosen: draws the moment the controls point at.
class Player {
 public:
  Player(view::Replay& replay, view::Replay* ghost, view::Controls controls, float scale);

  void draw(sf::RenderTarget& target, bool whole_wake);
  void tell(std::vector<draw::Drawn>* into) { screen_.tell(into); }  ///< what is drawn from now on
  void handle(const sf::Event& event);
  void press(view::Command command) { view::apply(command, controls_, *replay_, view_); }
  void advance(double wall_s) { view::advance(controls_, *replay_, wall_s); }

  view::Controls& controls() { return controls_; }
  const view::View& view() const { return view_; }
  const std::vector<view::StoryLine>& story() const { return replay_->story(controls_.units); }

 private:
  void type(char32_t character);
  void press_key(sf::Keyboard::Key key);
  void press_mouse(float x, float y);
  void move_mouse(float x, float y);
  void turn_wheel(float x, float y, float turns);
  void go_to(float x, float y);  ///< to the moment that the place under the pointer stands for, if there is one

  enum class Drag { none, time, riders, divider };
  view::Replay* replay_;
  view::Replay* ghost_;
  view::Controls controls_;
  draw::Screen screen_;
  view::View view_;
  Drag drag_ = Drag::none;
  view::Divider divider_ = view::Divider::road;
  float mouse_x_ = 0, mouse_y_ = 0;
  std::vector<std::optional<view::GainedHere>> gained_;  ///< on the second ride, by the rider chosen last
  std::optional<std::uint32_t> gained_by_;
};
const char* key_name(sf::Keyboard::Key key);  ///< as in `view::key_hints`; "" for keys without a meaning

/// Plays until the window is closed; returns its last size.
sf::Vector2u play(Player& player, sf::Vector2u size, const std::string& title);
/// Throws InputFault if the file cannot be written.
void save_picture(Player& player, sf::Vector2u size, double time_s, const std::string& path);
/// Thirty pictures to a second of playing at the chosen speed, slower where riders part (story.hpp), to a folder or a film file (film.hpp); returns how many.
std::size_t save_film(Player& player, sf::Vector2u size, double from_s, double to_s, const std::string& target);
/// Presses every key in a real window, clicks, drags and turns the wheel all over it and resizes it to odd shapes, drawing after each; returns how many.
std::size_t press_everything(Player& player, sf::Vector2u size);

}  // namespace leewheel
