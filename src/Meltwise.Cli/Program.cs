using Meltwise.Cli;

return Invocation.Run(args);
