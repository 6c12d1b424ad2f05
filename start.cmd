@echo off
rem Windows counterpart of ./start. Not run here until someone has.
call "%~dp0meltwise.cmd" start --demo %*
