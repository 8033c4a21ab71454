# The everyday build: quick to make, every warning an error. Use: cmake -S . -B build/dev -G Ninja -C .ci/dev.cmake
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(CMAKE_COMPILE_WARNING_AS_ERROR ON CACHE BOOL "")
set(CMAKE_EXPORT_COMPILE_COMMANDS ON CACHE BOOL "")
set(CMAKE_VERIFY_INTERFACE_HEADER_SETS ON CACHE BOOL "")
