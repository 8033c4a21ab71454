# Address and undefined-behaviour sanitizers, asserts on, containers checked. Left out of the second one are null,
# object-size and vptr: the first one and the checked containers see the same, and they cost a third of the build.
set(CMAKE_BUILD_TYPE None CACHE STRING "")
set(CMAKE_CXX_FLAGS "-O1 -g1 -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize=null,object-size,vptr -fno-sanitize-recover=undefined -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_COMPILE_WARNING_AS_ERROR ON CACHE BOOL "")
set(KITHUE_JOIN ON CACHE BOOL "")
