// Opens a window, fills it and waits to be ended: what start-up costs without a program in it.

#include <SDL.h>

int main(int, char**) {
  if (SDL_Init(SDL_INIT_VIDEO) != 0)
    return 1;
  SDL_Window* window =
      SDL_CreateWindow("bare", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, 1280, 720, 0);
  SDL_Surface* surface = SDL_GetWindowSurface(window);
  SDL_FillRect(surface, nullptr, SDL_MapRGB(surface->format, 40, 60, 80));
  SDL_UpdateWindowSurface(window);
  for (SDL_Event event; SDL_WaitEvent(&event) != 0;) {
    if (event.type == SDL_QUIT)
      break;
    if (event.type == SDL_WINDOWEVENT)
      SDL_UpdateWindowSurface(window);
  }
  SDL_Quit();
  return 0;
}
