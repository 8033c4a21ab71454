# Address and undefined-behaviour sanitizers, asserts on.
set(CMAKE_BUILD_TYPE None CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1 -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=undefined" CACHE STRING "")
set(CMAKE_COMPILE_WARNING_AS_ERROR ON CACHE BOOL "")
set(KITHUE_JOIN ON CACHE BOOL "")
