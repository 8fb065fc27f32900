using Workshop.Core.PublicPage;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.PublicPages;

namespace Workshop.Service.Tests.Api.PublicPages;

public class SecondFactorTests
{
    [Theory]
    [InlineData("Am Anger 12\n79098 Freiburg", "79098", true)]
    [InlineData("Am Anger 12\n79098 Freiburg", "D-79098", true)]
    [InlineData("Am Anger 12, D-79098 Freiburg", "79098", true)]
    [InlineData("3 Tallow Lane, London SW1A 1AA", "sw1a1aa", true)]
    [InlineData("3 Tallow Lane, London SW1A 1AA", "SW1A 1AA", true)]
    [InlineData("Gracht 4, 1234 AB Amsterdam", "1234ab", true)]
    [InlineData("Rua do Sol 9, 01310-100 Sao Paulo", "01310-100", true)]
    [InlineData("Am Anger 12\n79098 Freiburg", "12", false)]
    [InlineData("Am Anger 12\n79098 Freiburg", "Anger 12", false)]
    [InlineData("Am Anger 12\n79098 Freiburg", "Freiburg", false)]
    [InlineData("Am Anger 12\n79098 Freiburg", "79099", false)]
    [InlineData("Am Anger 12\n79098 Freiburg", "7909", false)]
    [InlineData("Am Anger 12\n79098 Freiburg", "", false)]
    [InlineData(null, "79098", false)]
    public void A_postcode_is_found_in_an_address_as_people_write_it(string? address, string told, bool holds) =>
        Assert.Equal(holds, SecondFactorCheck.Holds(told, [Customer(address, null)], SecondFactor.Either));

    [Theory]
    [InlineData("+442079460018", "0018", SecondFactor.Either, true)]
    [InlineData("+442079460018", "0018", SecondFactor.Telephone, true)]
    [InlineData("+442079460018", "0018", SecondFactor.Postcode, false)]
    [InlineData("+442079460018", "018", SecondFactor.Either, false)]
    [InlineData("+442079460018", "442079460018", SecondFactor.Either, false)]
    [InlineData(null, "0018", SecondFactor.Either, false)]
    public void The_last_four_digits_of_a_telephone_number_are_enough_where_the_shop_asks_for_them(string? telephone, string told, SecondFactor asked, bool holds) =>
        Assert.Equal(holds, SecondFactorCheck.Holds(told, [Customer(null, telephone)], asked));

    private static StoredCustomer Customer(string? address, string? telephone) =>
        new() { Id = "c", Name = "Ida Marlow", Address = address, TelephoneNormalised = telephone, Consents = "{}", Contact = "normal", Created = 0, Version = 1 };
}
