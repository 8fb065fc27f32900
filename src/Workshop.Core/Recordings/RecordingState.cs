namespace Workshop.Core.Recordings;

/// <summary>How far the service has come with a recording.</summary>
public enum RecordingState
{
    /// <summary>It is here and not listened to yet.</summary>
    Waiting,

    /// <summary>There is a reading, good or not.</summary>
    Listened,

    /// <summary>There is none, and it is not tried again by itself.</summary>
    Failed,
}

/// <summary>Why there is no reading of a recording that could be read.</summary>
public enum ListeningFailure
{
    /// <summary>Listening took longer than it may.</summary>
    TookTooLong,

    /// <summary>The service ended while it listened, as often as it tries.</summary>
    Interrupted,

    /// <summary>The lift angle of the calibre is no longer known.</summary>
    NoLiftAngle,

    /// <summary>The file is no longer where it was put.</summary>
    FileGone,
}
