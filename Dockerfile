FROM mcr.microsoft.com/dotnet/sdk:10.0 AS build
WORKDIR /source
COPY src src
# For one kind of machine: the packages bring native libraries for a dozen others.
RUN dotnet publish src/Workshop.Service --configuration Release --runtime linux-x64 --self-contained false --output /program

# Not the Alpine variant: the native libraries are built for glibc.
FROM --platform=linux/amd64 mcr.microsoft.com/dotnet/aspnet:10.0
WORKDIR /program
COPY --from=build /program .

# Everything that must outlive the container is in /data, which belongs to the image's own user "app".
RUN mkdir /data && chown "$APP_UID" /data
ENV Storage__Path=/data Http__Address=0.0.0.0 Http__Port=8080
VOLUME /data

USER $APP_UID
EXPOSE 8080

# The image has no curl, so the program asks its running self.
HEALTHCHECK --interval=30s --timeout=10s --start-period=30s \
    CMD ["dotnet", "Workshop.Service.dll", "health", "--url", "http://127.0.0.1:8080/health/live"]

# Without a command the service runs, on a database that is made or brought up to date first.
ENTRYPOINT ["dotnet", "Workshop.Service.dll"]
CMD ["serve", "--migrate"]
