Console.Error.WriteLine("meltwise: no command yet.");
return 2;
