#pragma once
/// Where the pictures of a film go: a folder of numbered files, or straight into ffmpeg.

#include <SFML/Graphics/Image.hpp>
#include <memory>
#include <string>

namespace leewheel {

class Film {
 public:
  virtual ~Film() = default;
  virtual void add(const sf::Image& picture) = 0;
  virtual void finish() = 0;  ///< only then the film stands under its name
};

inline constexpr double film_pictures_per_s = 30.0;

bool is_film_file(const std::string& target);  ///< ends in .mp4 or .webm: made by ffmpeg
/// `target` is a folder for 00000.png, 00001.png ..., or a film file. Throws InputFault when it cannot be written or
/// ffmpeg is not installed.
std::unique_ptr<Film> open_film(const std::string& target, unsigned width_px, unsigned height_px);

/// Written beside its place and renamed. Throws InputFault.
void write_picture(const sf::Image& picture, const std::string& path);

}  // namespace leewheel
