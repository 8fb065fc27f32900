namespace Workshop.Core.Orders;

/// <summary>What a storefront was paid for.</summary>
public enum OrderPaymentKind
{
    Deposit,
    Balance,
}

/// <summary>How a dispute about a payment ended.</summary>
public enum DisputeEnd
{
    Kept,
    PaidBack,
}

/// <summary>What is told of a parcel.</summary>
public enum ShipmentTold
{
    Sent,
    Delivered,
    Lost,
}

/// <summary>How an expected watch stands.</summary>
public enum ArrivalStanding
{
    Expected,
    Arrived,
    Ended,
}

/// <summary>Why a watch is not expected any more.</summary>
public enum ArrivalEnd
{
    /// <summary>The customer took the order back.</summary>
    Cancelled,

    /// <summary>A later state of the order has not got it.</summary>
    NoLongerOrdered,

    /// <summary>It is the watch of another order, or of a job.</summary>
    SameWatch,
    NeverCame,

    /// <summary>It came and was sent back without having been taken in.</summary>
    SentBack,
    Other,
}

/// <summary>What of a watch on the bench is not what was ordered.</summary>
public enum OrderDiffers
{
    /// <summary>It asks for another kind of work.</summary>
    Work,
    Serial,
}

/// <summary>By which door a storefront's messages come.</summary>
public enum StorefrontDoor
{
    Post,
    Inbox,
}

/// <summary>Why a message of a storefront is on the desk's list.</summary>
public enum StorefrontFlag
{
    /// <summary>It was signed, and could not be read.</summary>
    Unreadable,
    UnknownType,

    /// <summary>Something that is needed is missing or is not right.</summary>
    BadData,

    /// <summary>It speaks for another storefront.</summary>
    SourceNotYours,

    /// <summary>The same identity was used for another content.</summary>
    EventConflict,

    /// <summary>The number of a delivery was used again for another body.</summary>
    DeliveryConflict,
    UnknownProduct,
    UnknownOrder,
    UnknownCustomer,
    UnknownPayment,
    UnknownJob,

    /// <summary>An old version of a quote was answered.</summary>
    OldQuote,

    /// <summary>What it asks for is not possible as the job stands.</summary>
    Refused,

    /// <summary>It is kept in the job, told too late to count by itself: a person decides.</summary>
    ForReview,

    /// <summary>The order was taken back, and its watch is here.</summary>
    CancelledAfterArrival,

    /// <summary>A later state of the order has not got a watch that is here.</summary>
    ChangedAfterArrival,
    ErasureAsked,
    PaymentDisputed,
    ParcelLost,
}
