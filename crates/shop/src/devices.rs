//! Devices that were paired: each has a secret, of which only a hash is kept.

use crate::open::later;
use crate::{DeviceId, Shop, ShopError};

/// A paired device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// Its number.
    pub id: DeviceId,
    /// Its name.
    pub name: String,
    /// When it was paired.
    pub made_ms: i64,
    /// When it was last seen.
    pub seen_ms: i64,
    /// When it was shut out.
    pub revoked_ms: Option<i64>,
}

impl Shop {
    /// Pairs a device whose secret has that hash.
    ///
    /// # Errors
    /// `Taken`, if a device has that hash; `BadValue` for an empty one; the world's.
    pub fn pair_device(&self, token_hash: &str, name: &str) -> Result<Device, ShopError> {
        later(self, (token_hash, name))
    }

    /// The device whose secret has that hash; none if there is none, or if it was shut out.
    ///
    /// # Errors
    /// The world's.
    pub fn device_with(&self, token_hash: &str) -> Result<Option<Device>, ShopError> {
        later(self, token_hash)
    }

    /// Notes that a device was seen. Writes to the disk: once a minute is enough.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn see_device(&self, device: DeviceId) -> Result<(), ShopError> {
        later(self, device)
    }

    /// Shuts a device out.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn revoke_device(&self, device: DeviceId) -> Result<(), ShopError> {
        later(self, device)
    }

    /// All devices, shut out or not, the last seen first.
    ///
    /// # Errors
    /// The world's.
    pub fn devices(&self) -> Result<Vec<Device>, ShopError> {
        later(self, ())
    }
}
