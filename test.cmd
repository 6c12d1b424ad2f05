@echo off
rem Windows counterpart of ./test. Not run here until someone has. The browser tests need Chromium, the storage tests PostgreSQL; see tests\prepare.
setlocal
cd /d "%~dp0"
dotnet test Meltwise.slnx -c Release
