using Workshop.Service.Commands;

return await WorkshopCommand.Run(args);
